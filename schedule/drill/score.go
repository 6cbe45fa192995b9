package drill

import "dullred/schedule"

// Score is how a lesson went so far.
type Score struct {
	Asked                         int
	Error                         float64 // mean of Said - Truth: above 0 late, below 0 early
	Off                           float64 // mean without the sign
	Splits, Heats, Wasted, Faults int
	Melted                        int // bars
}

// Score is how it went so far.
func (l *Lesson) Score() Score {
	s := l.score
	if s.Asked > 0 {
		s.Error, s.Off = float64(l.errors)/float64(s.Asked), float64(l.misses)/float64(s.Asked)
	}
	return s
}

// Result is what the record of lessons keeps.
func (l *Lesson) Result() schedule.Drilled {
	s := l.Score()
	return schedule.Drilled{Level: l.level.Number, Seed: l.seed, Asked: s.Asked, Error: s.Error,
		Heats: s.Heats, Wasted: s.Wasted, Faults: s.Faults, Splits: s.Splits}
}
