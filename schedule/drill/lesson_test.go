package drill

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
)

func begun(t require.TestingT, level int, seed uint64) *Lesson {
	l, err := New(level, seed)
	require.NoError(t, err)
	return l
}

func TestLevels(t *testing.T) {
	for i, level := range Levels() {
		require.Equal(t, i+1, level.Number)
		require.NotEmpty(t, level.Title)
		require.NotEmpty(t, level.Teaches)
	}
	for _, level := range []int{-1, 0, len(Levels()) + 1} {
		_, err := New(level, 1)
		require.ErrorContains(t, err, "levels are 1 to 5")
	}
}

// What is said of the courses to come is what comes: no level, no seed and no history
// makes it wrong, and asking changes nothing.
func TestTheTruthComesTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		level, seed := rapid.IntRange(1, 5).Draw(t, "level"), rapid.Uint64().Draw(t, "seed")
		l, silent := begun(t, level, seed), begun(t, level, seed)
		clock := time.Duration(0)
		for range rapid.IntRange(0, 40).Draw(t, "steps") {
			switch rapid.IntRange(0, 4).Draw(t, "what") {
			case 0:
				requireHeat(t, l, silent, &clock, time.Duration(rapid.IntRange(0, 120).Draw(t, "in"))*time.Second,
					time.Duration(rapid.IntRange(0, 60).Draw(t, "out"))*time.Second)
			case 1:
				requireTruth(t, l, silent)
			default:
				require.Equal(t, silent.Strike(), l.Strike())
			}
		}
		s := l.Score()
		require.LessOrEqual(t, s.Wasted+s.Melted, s.Heats)
		require.LessOrEqual(t, s.Splits+s.Melted, 3)
		number, of := l.Bars()
		require.True(t, number >= 1 && number <= of)
		again := silent.Score()
		again.Asked, again.Error, again.Off = s.Asked, s.Error, s.Off
		require.Equal(t, again, s, "saying changes the score of what was said and nothing else")
	})
}

// requireTruth says something, and works on to see whether the reveal was true.
func requireTruth(t *rapid.T, l, silent *Lesson) {
	if l.Over() {
		require.Equal(t, Reveal{}, l.Say(1))
		return
	}
	asked := l.Score().Asked
	r := l.Say(3)
	require.Equal(t, 3-r.Truth, r.Error)
	require.NotEmpty(t, r.Reasons)
	if r.Truth >= MostSaid {
		require.Zero(t, l.Say(MostSaid).Error, "nine or more")
	}
	again := l.Say(-7)
	require.True(t, again.Again && again.Truth == r.Truth && again.Said == 0, "an answer is a count")
	if !r.Again {
		require.Equal(t, asked+1, l.Score().Asked, "once")
	}
	bar := l.number
	for i := range r.Truth {
		s := l.Strike()
		require.Equal(t, silent.Strike(), s)
		require.False(t, s.Split)
		if s.Done {
			require.Contains(t, r.Reasons[1], fmt.Sprintf("has its size after %d of them", i+1))
			return
		}
	}
	require.Equal(t, bar, l.number)
	s := l.Strike()
	require.Equal(t, silent.Strike(), s)
	require.True(t, s.Split, "the one after splits it")
}

func requireHeat(t *rapid.T, l, silent *Lesson, clock *time.Duration, in, out time.Duration) {
	for _, each := range []*Lesson{l, silent} {
		each.Begin(*clock)
		require.GreaterOrEqual(t, each.Temp(*clock+in), each.Temp(*clock), "a flame heats")
		each.Out(*clock + in)
		require.LessOrEqual(t, each.Temp(*clock+in+out), each.Temp(*clock+in), "and then it cools")
		each.Quench(*clock + in + out)
	}
	*clock += in + out + time.Minute
	p := l.Prove()
	require.Equal(t, silent.Prove(), p)
	if l.Over() && !p.Melted {
		return
	}
	require.False(t, p.Soft && p.Melted)
	require.NotEmpty(t, p.Reasons)
}

func TestHeats(t *testing.T) {
	for _, c := range []struct {
		name, reason string
		in, out      time.Duration
		soft, melted bool
		faults       []Fault
	}{
		{"right", "in its window at 38 s, out at 44, the red gone 10 s later", 44 * time.Second, 15 * time.Second, true, false, nil},
		{"too cold", "below the window nothing softens", 30 * time.Second, 15 * time.Second, false, false, []Fault{TooCold}},
		{"too short", "it has only just come there", 39 * time.Second, 15 * time.Second, false, false, []Fault{TooShort}},
		{"too hot", "the grain grows", 52 * time.Second, 30 * time.Second, true, false, []Fault{TooHot}},
		{"melted", "past the solidus", 120 * time.Second, 30 * time.Second, false, true, []Fault{TooHot}},
		{"quenched too early", "with red in it", 44 * time.Second, time.Second, true, false, []Fault{QuenchedTooEarly}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			l := begun(t, 1, 7)
			work := func() {
				for range 3 {
					l.Strike()
				}
			}
			work()
			l.Begin(time.Minute)
			l.Out(time.Minute + c.in)
			l.Quench(time.Minute + c.in + c.out)
			p := l.Prove()
			require.Equal(t, c.soft, p.Soft, c.reason)
			require.Equal(t, c.melted, p.Melted)
			require.Equal(t, c.faults, p.Faults)
			require.Equal(t, 1, l.Score().Heats)
			require.Equal(t, len(c.faults), l.Score().Faults)
			if c.soft {
				require.Zero(t, l.bar.since)
			}
		})
	}
}

// The window and the solidus are the published ones of sterling.
func TestTheWindowIsThePublishedOne(t *testing.T) {
	l := begun(t, 1, 1)
	low, high := l.window()
	require.Equal(t, []float64{593, 649}, []float64{float64(low), float64(high)})
	require.InDelta(t, 788, float64(l.solidus()), 1, "the lowest that the table has by default")
}

func TestAHeatOnSoftMetalIsWasted(t *testing.T) {
	l := begun(t, 1, 3)
	l.Begin(0)
	l.Out(42 * time.Second)
	l.Quench(time.Minute)
	p := l.Prove()
	require.True(t, p.Wasted)
	require.Equal(t, 1, l.Score().Wasted)
	require.Equal(t, Proved{}, l.Prove(), "without a heat there is nothing to prove")
}

// Metal that did not soften keeps its work, so that working on splits it.
func TestAColdHeatLeavesTheWork(t *testing.T) {
	l := begun(t, 1, 7)
	for l.bar.work < 0.5 {
		l.Strike()
	}
	work, limit := l.bar.work, l.bar.limit
	l.Begin(0)
	l.Out(20 * time.Second)
	l.Prove()
	require.Equal(t, []float64{work, limit}, []float64{l.bar.work, l.bar.limit})
}

// Signs come as the metal hardens, and in this order.
func TestSignsCome(t *testing.T) {
	order := map[schedule.Sign]int{"": 0, schedule.SignRings: 1, schedule.SignBounces: 2, schedule.SignSprings: 3, schedule.SignStops: 4}
	heard := 0
	for seed := range uint64(20) {
		l := begun(t, 4, seed)
		last := 0
		for range 30 {
			s := l.Strike()
			if s.Split || s.Done {
				break
			}
			require.GreaterOrEqual(t, order[s.Sign], last)
			last = order[s.Sign]
			heard += last
			require.False(t, s.Reading.Taken(), "nothing is read between heats")
		}
	}
	require.Positive(t, heard)
}

// A smith who goes by the sums of the lesson finishes all levels, and seldom splits a
// bar of ordinary stock.
func TestTheSumsServeInTheLesson(t *testing.T) {
	splits, asked, off := 0, 0, 0.0
	for seed := range uint64(40) {
		for level := range Levels() {
			l := begun(t, level+1, seed)
			play(l)
			require.True(t, l.Over())
			s := l.Score()
			if level == 0 {
				splits, asked, off = splits+s.Splits, asked+s.Asked, off+s.Off*float64(s.Asked)
			}
			require.Equal(t, s.Splits, l.Result().Splits)
			require.InDelta(t, s.Error, l.Result().Error, 1e-9)
		}
	}
	require.Less(t, splits, 12, "of 120 bars")
	require.Less(t, off/float64(asked), 4.0)
}

// play is a lesson as one plays it who says what the sums say, and anneals when they
// leave less than one sure course.
func play(l *Lesson) {
	clock := time.Duration(0)
	for range 400 {
		if l.Over() {
			return
		}
		if f := l.forecast(); f.NextCrosses >= 0.1 && l.bar.since > 0 {
			l.Say(f.Likely)
			l.Begin(clock)
			l.Out(clock + 44*time.Second)
			l.Quench(clock + time.Minute)
			l.Prove()
			clock += 2 * time.Minute
			continue
		}
		l.Strike()
	}
}

func BenchmarkLesson(b *testing.B) {
	for seed := uint64(0); b.Loop(); seed++ {
		l, err := New(2, seed)
		if err != nil {
			b.Fatal(err)
		}
		play(l)
	}
}

// A second heat after one that was too short is needed and not wasted.
func TestAHeatAfterOneThatFailedIsNotWasted(t *testing.T) {
	l := begun(t, 1, 7)
	for l.bar.work < 0.55 {
		l.Strike()
	}
	for _, in := range []time.Duration{39 * time.Second, 44 * time.Second} {
		l.Begin(0)
		l.Out(in)
		l.Quench(in + 20*time.Second)
		require.False(t, l.Prove().Wasted)
	}
	require.Zero(t, l.bar.since)
}

// A bar that is struck on without its bend check, and one that goes from the flame into
// the water, count as what they are.
func TestAHeatOutOfTurn(t *testing.T) {
	l := begun(t, 1, 7)
	l.Strike()
	l.Begin(0)
	require.True(t, l.heat.in && !l.heat.cooled)
	l.Quench(44 * time.Second)
	require.True(t, l.heat.cooled && !l.heat.in)
	l.Strike()
	require.Equal(t, 1, l.Score().Heats, "it was not proved, and was a heat")
	require.Equal(t, 1, l.bar.since)
}

func ExampleLesson() {
	l, _ := New(1, 7)
	l.Strike()
	fmt.Println(l.Strike().Reading)
	told := l.Say(3)
	fmt.Println(told.Truth, told.Range.Likely)
	for _, why := range told.Reasons {
		fmt.Println(why)
	}
	// Output:
	// 3.65 mm square
	// 10 6
	// The metal has taken strain 0.18; this stretch splits at 0.98, and the published limit is 0.69.
	// 10 courses more bring it to 0.94, the one after that to 0.99.
	// By the sums it was 6 (4 to 7): a course of this hand puts about 0.10 into soft metal, 0.09 into metal so stiff, by 2 courses that were read.
	// Early by 7: that costs a heat and no metal.
}
