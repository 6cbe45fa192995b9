package drill

import (
	"fmt"
	"math"
	"math/rand/v2"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// The bar of every lesson, mm. It is thin, so that a heat of it is short.
const (
	side   = 4.0
	toSide = 2.4
)

// bars is how many bars a lesson has.
const bars = 3

// calliper is the error of a reading: half its last digit, and a little more. A
// judgement.
const calliper unit.Millimetre = 0.02

// Of a stock and a hand: a middle course on soft metal, how hands and courses scatter,
// and at what multiple of the published limit the middle stock splits. Hands and stocks
// differ half as much as in the simulated shop of schedule/trial, so that a lesson is
// fair. All judgements.
const (
	middleCourse = 0.11
	handSpread   = 0.15
	withinHand   = 0.25
	lawShape     = 10
	stockScale   = 0.95 / 0.69
	weakScale    = 0.60 / 0.69
	stockSpread  = 0.10
)

// metal is what every bar is of.
const metal alloys.ID = "AG925"

// Lesson is one lesson. Its methods are called from one goroutine.
type Lesson struct {
	level Level
	seed  uint64
	alloy alloys.Alloy
	first float64 // published limit as cast, strain
	later float64 // and after the first proved heat

	blows  *rand.Rand // each kind of chance has a row of its own, so that a
	stock  *rand.Rand // look ahead changes nothing of what comes
	noise  *rand.Rand
	coming []float64     // strains of the courses to come, on soft metal, as far as they were looked at
	course float64       // middle course of the hidden hand
	scale  float64       // of the law of the stock, in published limits
	hand   coldwork.Hand // as the readings show it

	number int  // of the bar, from 0
	over   bool // all bars are worked or lost
	bar    bar
	heat   fire
	score  Score
	errors int // of what was said, summed with their sign
	misses int // and without
}

// New begins a lesson of a level, from 1. The same level and seed are the same lesson.
func New(level int, seed uint64) (*Lesson, error) {
	all := Levels()
	if level < 1 || level > len(all) {
		return nil, fmt.Errorf("there is no level %d: levels are 1 to %d", level, len(all))
	}
	l := &Lesson{level: all[level-1], seed: seed, hand: coldwork.Prior(coldwork.Lengthen)}
	if err := l.readMetal(); err != nil {
		return nil, err
	}
	l.blows, l.stock, l.noise = l.row(1), l.row(2), l.row(3)
	l.course = middleCourse * math.Exp(handSpread*l.blows.NormFloat64())
	l.scale = stockScale
	if l.level.Weak {
		l.scale = weakScale
	}
	l.scale *= math.Exp(stockSpread * l.stock.NormFloat64())
	l.lay()
	return l, nil
}

// row is a row of random numbers of the lesson.
func (l *Lesson) row(n int) *rand.Rand {
	return rand.New(rand.NewPCG(l.seed, uint64(16*l.level.Number+n)))
}

// readMetal finds the published limits.
func (l *Lesson) readMetal() (err error) {
	if l.alloy, err = alloys.Find(string(metal)); err != nil {
		return err
	}
	for condition, limit := range map[alloys.Condition]*float64{alloys.Cast: &l.first, alloys.Wrought: &l.later} {
		published, err := coldwork.LimitOf(l.alloy, condition, "")
		if err != nil {
			return err
		}
		*limit = float64(published.Strain)
	}
	return nil
}

// Level is its grade.
func (l *Lesson) Level() Level { return l.level }

// Seed is what makes it this lesson.
func (l *Lesson) Seed() uint64 { return l.seed }

// Bars is which bar is worked, from 1, of how many.
func (l *Lesson) Bars() (number, of int) { return l.number + 1, bars }

// Over reports whether all bars are worked to their size, or lost.
func (l *Lesson) Over() bool { return l.over }

// Bar is the bar as it is begun.
func (l *Lesson) Bar() schedule.Started {
	return schedule.Started{Alloy: string(metal), Reading: square(side), Calliper: calliper, Cast: l.level.Cast, Stock: "drill"}
}

// Size is to what each bar is worked.
func (l *Lesson) Size() schedule.Reading { return square(toSide) }

func square(a float64) schedule.Reading {
	s := unit.Millimetre(a)
	return schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: s, Width: s}}
}
