package class

import "dullred/schedule"

// Counts is what a hand, or all of them, did in a lesson.
type Counts struct {
	Pieces   int // that metal was worked, heated or bent on, test pieces left out
	Tests    int // test pieces, likewise
	Courses  int // of hammer, drawplate, punch, ...
	Over     int // of them, struck at or over the limit
	Unjudged int // of them, struck where no limit is known or the piece cannot be read
	Heats    int // begun
	Anneals  int // of them, proved soft
	Springy  int // of them, proved springy
	Unproven int // of them, not proved at all
	Open     int // of those, heats that may still be proved
	Early    int // heats begun before half of the limit was spent
	Splits   int // cracks seen
	Drill    Drill
}

// Drill is what came of lessons at a simulated bar.
type Drill struct {
	Lessons int
	Asked   int     // how often the courses left were said
	Off     float64 // courses that were said too many, in all; below 0 too few
	Heats   int
	Wasted  int // of them, on metal that had courses left in plenty
	Splits  int // bars that split
}

// Error is how many courses too many were said on average over all that was
// asked; below 0 too few. It is false where nothing was.
func (d Drill) Error() (courses float64, ok bool) {
	if d.Asked == 0 {
		return 0, false
	}
	return d.Off / float64(d.Asked), true
}

// Add is both together.
func (c Counts) Add(o Counts) Counts {
	return Counts{Pieces: c.Pieces + o.Pieces, Tests: c.Tests + o.Tests, Courses: c.Courses + o.Courses, Over: c.Over + o.Over,
		Unjudged: c.Unjudged + o.Unjudged, Heats: c.Heats + o.Heats, Anneals: c.Anneals + o.Anneals, Springy: c.Springy + o.Springy,
		Unproven: c.Unproven + o.Unproven, Open: c.Open + o.Open, Early: c.Early + o.Early, Splits: c.Splits + o.Splits,
		Drill: c.Drill.add(o.Drill)}
}

func (d Drill) add(o Drill) Drill {
	return Drill{Lessons: d.Lessons + o.Lessons, Asked: d.Asked + o.Asked, Off: d.Off + o.Off,
		Heats: d.Heats + o.Heats, Wasted: d.Wasted + o.Wasted, Splits: d.Splits + o.Splits}
}

// drilled is one lesson. Each answer weighs the same, however many a lesson asked for.
func drilled(b schedule.Drilled) Drill {
	return Drill{Lessons: 1, Asked: b.Asked, Off: b.Error * float64(b.Asked), Heats: b.Heats, Wasted: b.Wasted, Splits: b.Splits}
}
