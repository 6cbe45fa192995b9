package tui

import (
	"dullred/schedule"
	"dullred/tui/view"
)

// explained is the sum behind the advice for a zone.
type explained struct {
	zone string // that was chosen; empty is the one that decides
	sum  schedule.Explanation
}

// why is the sum behind the advice for the piece on the screen, in the zone that was
// chosen. It is reckoned once for each entry, and on its own page alone; nil on any
// other.
func (b *Bench) why(p *piece) *schedule.Explanation {
	if b.page != view.Why {
		return nil
	}
	others := b.observed(p) // which lets go of what was reckoned without it
	if p.why == nil || p.why.zone != b.zone {
		p.why = &explained{b.zone, p.fold.Explain(b.zone, others)}
	}
	return &p.why.sum
}
