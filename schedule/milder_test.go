package schedule_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// severity orders the verdicts that speak of work.
func severity(t require.TestingT, v schedule.Verdict) int {
	i := slices.Index([]schedule.Verdict{schedule.VerdictNoAnneal, schedule.VerdictCarryOn,
		schedule.VerdictAnnealSoon, schedule.VerdictAnnealNow}, v)
	require.GreaterOrEqual(t, i, 0, "%v speaks of no work", v)
	return i
}

// drawn is a bar drawn out on a straight path by one hand and one process, some
// courses read and some not.
type drawn struct {
	story
	process     coldwork.Process
	thick, wide unit.Millimetre // of the last reading
	fall        float64         // ln of width over ln of thickness lost
}

var drawnBar = rapid.Custom(func(t *rapid.T) drawn {
	s := limited(wrought(rapid.SampledFrom([]string{"AG925", "AG999", "C11000", "C26000", "C52400", "SN92"}).Draw(t, "alloy")),
		rapid.SampledFrom([]string{"", "", "30%", "60% area", "0.15"}).Draw(t, "limit"))
	s.Cast = rapid.Bool().Draw(t, "cast")
	s.Calliper = rapid.SampledFrom([]unit.Millimetre{0.01, 0.05, 0.1}).Draw(t, "calliper")
	d := drawn{story: start(s), thick: 8, wide: 8, fall: rapid.Float64Range(0, 1).Draw(t, "fall"),
		process: rapid.SampledFrom([]coldwork.Process{coldwork.Lengthen, coldwork.Roll, coldwork.Draw, coldwork.Planish}).Draw(t, "process")}
	d = d.read(0.04)
	for range rapid.IntRange(0, 8).Draw(t, "courses") {
		if rapid.IntRange(0, 3).Draw(t, "unread") == 0 {
			d.story = d.then(unread(d.process, rapid.IntRange(1, 3).Draw(t, "n")))
			continue
		}
		d = d.read(rapid.Float64Range(0.04, 0.2).Draw(t, "drawn out"))
	}
	return d
})

// read is one more course that draws the bar out by a logarithm, and its reading.
func (d drawn) read(by float64) drawn {
	read := d.bar(by)
	d.story = d.then(course(d.process, read))
	d.thick, d.wide = read.Size.Thick, read.Size.Width
	return d
}

func (d drawn) bar(by float64) schedule.Reading {
	return bar(d.thick*unit.Millimetre(math.Exp(-by)), d.wide*unit.Millimetre(math.Exp(-by*d.fall)))
}

func TestMoreWorkIsNeverMilder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawnBar.Draw(t, "bar")
		more := d.then(unread(d.process, rapid.IntRange(1, 3).Draw(t, "more")))
		requireNoMilder(t, d.story, more)
	})
}

// A reading further along the same path is no reason to go on longer, whether a
// course lies before it or none. Both readings are beyond the calliper's error:
// within it, the smaller one says less of the metal and nothing of the hand.
func TestReadingFurtherAlongIsNeverMilder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawnBar.Draw(t, "bar")
		if rapid.Bool().Draw(t, "alone") {
			d = d.read(0.1) // so that no course waits for the reading that follows
		}
		near := rapid.Float64Range(0.08, 0.3).Draw(t, "near")
		far := near + rapid.Float64Range(0, 0.3).Draw(t, "further")
		requireNoMilder(t, d.read(near).story, d.read(far).story)
		requireNoMilder(t, d.measured(near), d.measured(far))
	})
}

// measured is one more reading, of a bar drawn out by a logarithm.
func (d drawn) measured(by float64) story {
	return d.then(schedule.Measured{Reading: d.bar(by)})
}

func requireNoMilder(t *rapid.T, less, more story) {
	a, b := less.advice(), more.advice()
	require.GreaterOrEqual(t, b.Spent, a.Spent-1e-9, "more work spends no less of the limit")
	require.GreaterOrEqual(t, severity(t, b.Verdict), severity(t, a.Verdict), "%v %+v, then %v %+v", a.Verdict, a.Courses, b.Verdict, b.Courses)
}
