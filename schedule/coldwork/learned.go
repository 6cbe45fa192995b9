package coldwork

import (
	"math"

	"dullred/alloys/unit"
)

// At is a hand at work: whose, on which metal, with which process, and at what
// section. One that is not known stands for any.
type At struct {
	Hand    string // id
	Alloy   string // id
	Process Process
	Section Section
}

// betweenSections is how much one smith's courses differ from one section to
// another (log-sd 0.2), a judgement: the same blow moves a thin bar more than a
// thick one, but most smiths strike a thin one lighter.
const betweenSections = 0.20

// alike is the factor by which two thicknesses may differ that are worked alike; a
// judgement.
const alike = 1.5

// Learned is the prior of a process taught by every observation that matches the
// hand, alloy and process. Those at other sections count for less: they teach what
// the hand is likely to do at this one.
func Learned(at At, courses []Course) Hand {
	h := Prior(at.Process)
	for _, c := range courses {
		if at.matches(c) && !at.like(c.Section) {
			h = h.Learn(c)
		}
	}
	h = h.elsewhere()
	for _, c := range courses {
		if at.matches(c) && at.like(c.Section) {
			h = h.Learn(c)
		}
	}
	return h
}

func (at At) matches(c Course) bool {
	return c.Hand == at.Hand && c.Alloy == at.Alloy && c.Process == at.Process
}

// like reports whether a section is worked as the one at hand: sheet as sheet, a bar
// as a bar, about as thick.
func (at At) like(s Section) bool {
	if !at.Section.Known() || !s.Known() {
		return true
	}
	ratio := float64(s.Depth() / at.Section.Depth())
	return (at.Section.Shape == unit.Sheet) == (s.Shape == unit.Sheet) && math.Abs(math.Log(ratio)) <= math.Log(alike)
}

// elsewhere is what is known of a hand at one section from its work at others: its
// mean is as uncertain as sections differ, at least.
func (h Hand) elsewhere() Hand {
	most := withinHand * withinHand / (betweenSections * betweenSections)
	if h.weight <= most {
		return h
	}
	less := most / h.weight
	h.weight, h.seen, h.strain = most, h.seen*less, h.strain*less
	return h
}
