package tui

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/drill"
	"dullred/tui/view"
)

// practice is a lesson without chances, for the pictures: two bars that split with
// the fifth course, a flame of ten kelvin a second.
type practice struct {
	level   drill.Level
	said    []drill.Reveal
	bar     int
	done    int // courses since soft
	size    unit.Millimetre
	to      unit.Millimetre // where a bar is done
	in, out time.Duration
	burns   bool
	hottest unit.Celsius
	splits  int
	heats   int
	faults  int
}

var _ Lesson = (*practice)(nil)

const practiceHolds = 4 // courses that a bar bears between heats

func newPractice() *practice {
	return &practice{bar: 1, size: 8, to: 6, level: drill.Level{Number: 2, Title: "By colour", ByColour: true, Read: true,
		Teaches: "Say how many courses the bar will bear, and soften it by the colour that you see."}}
}

func square8(side unit.Millimetre) schedule.Reading {
	return schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: side, Width: side}}
}

func (p *practice) Level() drill.Level     { return p.level }
func (p *practice) Seed() uint64           { return 7 }
func (p *practice) Bars() (number, of int) { return min(p.bar, 2), 2 }
func (p *practice) Size() schedule.Reading { return square8(p.to) }
func (p *practice) Over() bool             { return p.bar > 2 }

func (p *practice) Bar() schedule.Started {
	return schedule.Started{Alloy: "AG925", Calliper: 0.1, Reading: square8(8)}
}

// next is the next bar.
func (p *practice) next() { p.bar, p.done, p.size = p.bar+1, 0, 8 }

func (p *practice) Strike() (s drill.Struck) {
	p.done++
	p.size -= 0.4
	s.Reading = square8(p.size)
	if p.done == practiceHolds {
		s.Sign = schedule.SignRings
	}
	switch {
	case p.done > practiceHolds:
		p.splits++
		p.next()
		s.Split = true
	case p.size < p.to-0.01:
		p.next()
		s.Done = true
	}
	return s
}

func (p *practice) Say(n int) drill.Reveal {
	truth := practiceHolds - p.done
	r := drill.Reveal{Said: n, Truth: truth, Error: n - truth, Range: coldwork.Courses{Low: 1, Likely: 2, High: 4},
		Reasons: []string{fmt.Sprintf("This bar bears %d courses from soft, and %d are struck.", practiceHolds, p.done),
			"Each course of this hand takes 0.4 mm off the side, as the readings show."}}
	p.said = append(p.said, r)
	return r
}

func (p *practice) Begin(at time.Duration)  { p.in, p.burns, p.hottest = at, true, 20 }
func (p *practice) Out(at time.Duration)    { p.hottest, p.out, p.burns = p.Temp(at), at, false }
func (p *practice) Quench(at time.Duration) {}

func (p *practice) Temp(at time.Duration) unit.Celsius {
	if p.burns {
		return 20 + unit.Celsius(10*(at-p.in).Seconds())
	}
	return max(20, p.hottest-unit.Celsius(8*(at-p.out).Seconds()))
}

func (p *practice) Prove() drill.Proved {
	p.heats++
	if p.hottest < 600 {
		p.faults++
		return drill.Proved{Reading: square8(p.size), Faults: []drill.Fault{drill.TooCold},
			Reasons: []string{fmt.Sprintf("It came to %.0f °C, and the window begins at 600 °C.", float64(p.hottest))}}
	}
	if p.hottest > 900 {
		p.faults++
		p.next()
		return drill.Proved{Melted: true, Faults: []drill.Fault{drill.TooHot}, Reasons: []string{"It ran away at its solidus."}}
	}
	p.done = 0
	return drill.Proved{Soft: true, Reading: square8(p.size), Reasons: []string{"It was held long enough at its heat."}}
}

func (p *practice) Score() (s drill.Score) {
	s = drill.Score{Asked: len(p.said), Splits: p.splits, Heats: p.heats, Faults: p.faults}
	for _, r := range p.said {
		s.Error += float64(r.Error) / float64(len(p.said))
		s.Off += float64(max(r.Error, -r.Error)) / float64(len(p.said))
	}
	return s
}

func (p *practice) Result() schedule.Drilled {
	s := p.Score()
	return schedule.Drilled{Level: 2, Seed: 7, Asked: s.Asked, Error: s.Error, Heats: s.Heats, Faults: s.Faults, Splits: s.Splits}
}

// drills begins a lesson on the bench.
func (s *stage) drills(t testing.TB, l Lesson) *stage {
	t.Helper()
	s.desk = &Memory{Bench: stageBench, Hand: stageHand, HandName: "student"}
	b, err := NewBench(Config{Desk: s.desk, Drill: l, Location: time.UTC,
		Clock: Clock{Wall: func() time.Time { return s.wall }, Boot: func() (time.Duration, bool) { return s.boot, true }}})
	require.NoError(t, err)
	b.Resize(80, 24)
	s.Bench = b
	return s
}

// practised plays keys of a lesson, and lets time pass.
func practised(keys string, d time.Duration) func(*testing.T, *stage) {
	return func(t *testing.T, s *stage) { s.drills(t, newPractice()).keys(keys).wait(d) }
}

// drillMoments are the stages of a lesson.
var drillMoments = []moment{
	{"drill-fresh", practised("", 0)},
	{"drill-strike", practised(" ", 0)},
	{"drill-question", practised("  ", 0)},
	{"drill-late", practised("  4", 0)},
	{"drill-early", practised("  0", 0)},
	{"drill-right", practised("  2", 0)},
	{"drill-flame", practised("h0h", 20*time.Second)},
	{"drill-glow", practised("h0hl", 62*time.Second)},
	{"drill-trace", practised("h0hll", 67*time.Second)},
	{"drill-runs", practised("h0h", 95*time.Second)},
	{"drill-out", func(t *testing.T, s *stage) {
		s.drills(t, newPractice()).keys("h0h").wait(62 * time.Second).keys("o").wait(12 * time.Second)
	}},
	{"drill-bend", func(t *testing.T, s *stage) { s.drills(t, newPractice()).keys("h0h").wait(62 * time.Second).keys("oq") }},
	{"drill-soft", func(t *testing.T, s *stage) {
		s.drills(t, newPractice()).keys("h0h").wait(62 * time.Second).keys("oqs")
	}},
	{"drill-springy", func(t *testing.T, s *stage) {
		s.drills(t, newPractice()).keys("h0h").wait(30 * time.Second).keys("oqy")
	}},
	{"drill-melted", func(t *testing.T, s *stage) {
		s.drills(t, newPractice()).keys("h0h").wait(95 * time.Second).keys("oqs")
	}},
	{"drill-split", practised("  4   4  ", 0)},
	{"drill-score", practised("  4   3  x", 0)},
	{"drill-refusal", practised("  h", 0)},
	{"drill-keys", practised("?", 0)},
	{"drill-sum", practised("  2\t", 0)},
}

// stages are those of a lesson that have a page of their own, with the moment that shows it.
var stages = map[view.Stage]string{view.Striking: "drill-strike", view.Asking: "drill-question", view.Told: "drill-late",
	view.InFlame: "drill-flame", view.OutOfFlame: "drill-out", view.Bending: "drill-bend", view.Proved: "drill-soft",
	view.Split: "drill-split", view.Scored: "drill-score"}
