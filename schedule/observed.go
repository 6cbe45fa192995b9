package schedule

import (
	"slices"

	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// Observed is what other pieces teach of the same hands, torches and metals. A nil
// Observed teaches nothing.
type Observed struct {
	Courses []coldwork.Course
	Heats   []Heated
}

// Take adds what another piece teaches.
func (o *Observed) Take(s *State) {
	o.Courses = append(o.Courses, s.Courses...)
	o.Heats = append(o.Heats, s.Heats...)
}

// Learn makes the timers of a piece go by what other pieces taught.
func (s *State) Learn(o *Observed) { s.taught = o }

func (o *Observed) courses() []coldwork.Course {
	if o == nil {
		return nil
	}
	return o.Courses
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
