package schedule

import (
	"slices"

	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
	"dullred/schedule/split"
)

// Observed is what other pieces teach of the same hands, torches and metals. A nil
// Observed teaches nothing.
type Observed struct {
	Courses   []coldwork.Course
	Heats     []Heated
	Intervals []Interval // between anneals
	Heard     []Heard    // signs
	Words     []Entry    // of how far the limits of stocks may go, of all benches
	Risk      float64    // of splitting that the smith takes, at the limit of a stock; 0 for the usual
}

// Take adds what another piece teaches.
func (o *Observed) Take(s *State) {
	o.Courses = append(o.Courses, s.Courses...)
	o.Heats = append(o.Heats, s.Heats...)
	o.Heard = append(o.Heard, s.Heard...)
	o.TakeStock(s)
}

// TakeStock adds only what another piece teaches of its stock, whoever worked it.
func (o *Observed) TakeStock(s *State) { o.Intervals = append(o.Intervals, s.Intervals...) }

// Learn makes the timers of a piece go by what other pieces taught.
func (s *State) Learn(o *Observed) { s.taught = o }

func (o *Observed) courses() []coldwork.Course {
	if o == nil {
		return nil
	}
	return o.Courses
}

// intervals are those of a stock, of other pieces. Metal of which nobody said where it
// is from is a stock of its own.
func (o *Observed) intervals(of origin) (all []split.Interval) {
	if o == nil || of.name == "" {
		return nil
	}
	for _, i := range o.Intervals {
		if i.Doubt == "" && i.of(of) {
			all = append(all, i.Interval)
		}
	}
	return all
}

// heard are the signs that other pieces gave.
func (o *Observed) heard() []Heard {
	if o == nil {
		return nil
	}
	return o.Heard
}

// risk is the chance of splitting in one interval that a learned limit is set to.
func (o *Observed) risk() float64 {
	if o == nil || o.Risk == 0 {
		return split.Risk
	}
	return o.Risk
}

// loosened reports whether the limit of a stock may go beyond the published one, by
// the last word on it.
func (o *Observed) loosened(of origin) bool {
	if o == nil {
		return false
	}
	word, ok := lastWord(o.Words, of)
	return ok && !word.Body.(Loosened).Held
}

func (o *Observed) heats() []Heated {
	if o == nil {
		return nil
	}
	return o.Heats
}

// Heated is one heat as far as something is learned from it: how strong a torch
// is, or whether the metal came out soft.
type Heated struct {
	Alloy string
	Torch string      // the smith's name for it
	Brick bool        // hot brick behind the work
	H     float64     // W/m²K that explain how long it took; 0 where it taught no torch
	Proof *heat.Proof // of a bend check after a measured heat; nil without one
}

// torch are the strengths that the heats of one torch and hearth came to.
func (s *State) torch(name string, brick bool) (all []float64) {
	for _, h := range slices.Concat(s.taught.heats(), s.Heats) {
		if h.H > 0 && h.Torch == name && h.Brick == brick {
			all = append(all, h.H)
		}
	}
	return all
}

// proofs are the bend checks of an alloy.
func (s *State) proofs() (all []heat.Proof) {
	for _, h := range slices.Concat(s.taught.heats(), s.Heats) {
		if h.Proof != nil && h.Alloy == s.AlloyID {
			all = append(all, *h.Proof)
		}
	}
	return all
}
