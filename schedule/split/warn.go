package split

import "dullred/alloys/unit"

// Caution is how a smith wants to be warned: of which published limit (0 is
// none), at what chance of splitting in one interval (Risk is the usual one), and
// whether he has said that what was learned may go beyond the published limit.
type Caution struct {
	Published unit.Strain
	Risk      float64
	Loosen    bool
}

// Warn is the strain to be warned of: the limit of what was learned where that
// is tighter than the published one. Where it is looser it counts only if the
// smith said so, and no further than three intervals of this stock have gone:
// beyond that it would be the prior that speaks, not the metal. Without
// knowledge, or at a risk that is none, it is the published limit.
func (c Caution) Warn(k Knowledge) unit.Strain { return c.Bound(k, k.Limit(c.Risk)) }

// Bound is what may be warned of in place of a limit that was learned, for one who
// has it of [Knowledge.Limits] already; 0 stands for none.
func (c Caution) Bound(k Knowledge, learned unit.Strain) unit.Strain {
	switch {
	case learned == 0:
		return c.Published
	case learned <= c.Published:
		return learned
	case c.Loosen:
		return max(c.Published, min(learned, k.Reached()))
	}
	return c.Published
}
