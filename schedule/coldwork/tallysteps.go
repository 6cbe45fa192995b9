package coldwork

import (
	"slices"

	"dullred/alloys/unit"
)

// Change is one step of a Tally from a reading to the next.
type Change struct {
	From, To Section
	Slight   bool // within the calliper's error: a net change, until a reading shows more
	Broken   bool // it counts no strain: metal was taken off, or the two cannot be set against each other
}

// Changes are the steps since the metal was last soft, oldest first. Their
// strains and Apart together are what Measured gives.
func (t Tally) Changes() []Change {
	var out []Change
	for i, chain := range t.chains {
		if i > 0 {
			before := t.chains[i-1]
			out = append(out, Change{From: before[len(before)-1], To: chain[0], Broken: true})
		}
		for k := 1; k < len(chain); k++ {
			out = append(out, Change{From: chain[k-1], To: chain[k]})
		}
	}
	if len(t.chains) > 0 && t.last != t.end() {
		out = append(out, Change{From: t.end(), To: t.last, Slight: true})
	}
	return out
}

// Apart is the work that the section does not show: bends, twists, and courses
// that no reading shows whole.
func (t Tally) Apart() Estimate { return t.apart }

// Unshown are the courses since the last reading that counted, oldest first: those
// that a slight reading covered and those that are pending.
func (t Tally) Unshown() []Process { return slices.Concat(t.covered, t.pending) }

// Annealed are the courses before the last anneal that no reading has shown yet.
func (t Tally) Annealed() []Process { return slices.Clone(t.before) }

// Strain is the equivalent strain of the step, Between its sections; 0 where it
// is Broken.
func (c Change) Strain() unit.Strain {
	if c.Broken {
		return 0
	}
	return Between(c.From, c.To)
}

// Sides are the two lengths of each section, in mm, whose logarithms make the
// strain: thickness and width; for a round bar twice the side of the square of
// equal area; for a tube its wall and mean girth; for a vessel its wall and its
// ring. The second side of a sheet, whose width is not followed, is 1.
func (c Change) Sides() (from, to [2]float64) {
	from[0], from[1] = c.From.sides()
	to[0], to[1] = c.To.sides()
	return from, to
}
