package tui

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/tui/term"
	"dullred/tui/view"
)

// spend begins a square of sterling by keys and works it until its limit is spent.
func (e *evening) spend() {
	e.t.Helper()
	e.keys("bsterling\n8x8\nn\n")
	e.keys("   7x7\n   6x6\n  5.5x5.5\n")
	e.shows("ANNEAL NOW")
}

// spentKinds are the live entries that spend leaves.
var spentKinds = []schedule.Kind{
	schedule.KindStarted,
	schedule.KindPass, schedule.KindPass, schedule.KindPass, schedule.KindMeasured,
	schedule.KindPass, schedule.KindPass, schedule.KindPass, schedule.KindMeasured, schedule.KindRaised,
	schedule.KindPass, schedule.KindPass, schedule.KindRaised, schedule.KindMeasured,
}

// soak is how long a piece of 5.5 mm is held: 30 s up to 3 mm, 10 s for each more.
const soak = 55 * time.Second

// minutes is a time as the screen shows it, rounded up to seconds while it is to go.
func minutes(d time.Duration) string {
	s := int((d + time.Second - 1) / time.Second)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

func TestEvening(t *testing.T) {
	for _, d := range desks {
		t.Run(d.name, func(t *testing.T) {
			require.NotEmpty(t, d.reason)
			inEvening(t, d.open, playEvening)
		})
	}
}

// playEvening is one piece from the empty bench until it is soft again.
func playEvening(e *evening) {
	e.shows("the bench is empty")
	e.spend()
	e.keys("a")
	require.NotContains(e.t, e.text(), "a: seen", "the bar is gone once it is acknowledged")
	require.Equal(e.t, append(slices.Clone(spentKinds), schedule.KindAcknowledged), e.kinds("piece 1"))
	e.keys("th")
	e.wait(90 * time.Second)
	e.figure("1:30")
	e.keys("c")
	playSoak(e)
	e.key('o')
	playHot(e)
	playBath(e)
	e.key('s')
	e.shows("CARRY ON - 0 % of the limit spent")
	e.keys("t")
	require.Equal(e.t, append(slices.Clone(spentKinds), schedule.KindAcknowledged, schedule.KindBegun, schedule.KindReached,
		schedule.KindOut, schedule.KindRaised, schedule.KindRaised, schedule.KindQuenched, schedule.KindPickled, schedule.KindRinsed, schedule.KindSoft), e.kinds("piece 1"))
	require.Equal(e.t, []schedule.Kind{schedule.KindTorchLit, schedule.KindRaised, schedule.KindTorchOut}, e.hearth(), "it was left lit while the piece was in the pickle")
}

// playSoak looks at every second of a soak that has just begun and of the minute after.
func playSoak(e *evening) {
	for passed := time.Duration(0); passed < soak+time.Minute; passed += time.Second {
		want := minutes(soak - passed)
		if passed >= soak {
			want = minutes(passed-soak) + "+"
		}
		e.figure(want)
		e.wait(time.Second)
	}
}

// playHot leaves the piece hot, shown and not shown.
func playHot(e *evening) {
	e.wait(5 * time.Minute)
	e.shows("HOT - NOT GLOWING")
	e.keys("bcopper\n3 round\nn\n")
	e.wait(5 * time.Minute)
	e.shows("piece 2 - whole - 3 mm", "HOT: piece 1")
	e.keys("n")
	e.shows("HOT - NOT GLOWING")
	require.NotContains(e.t, e.text(), "HOT: piece 1", "it is named at the top only while another is shown")
}

// playBath quenches and pickles the piece.
func playBath(e *evening) {
	e.keys("q")
	e.shows("PROVE")
	require.NotContains(e.t, e.text(), "NOT GLOWING")
	e.keys("p")
	for passed := time.Duration(0); passed <= 12*time.Minute; passed += 30 * time.Second {
		want := minutes(min(10*time.Minute-passed, 10*time.Minute-time.Second)) // the first second shows 9:59
		if passed >= 10*time.Minute {
			want = minutes(passed-10*time.Minute) + "+"
		}
		e.figure(want)
		e.wait(30 * time.Second)
	}
	e.keys("r")
	e.shows("bend it a little")
	e.wait(keyGap)
}

// Hot metal stays HOT for hours, until somebody says that it is cool.
func TestHotStaysHot(t *testing.T) {
	inEvening(t, memoryDesk, func(e *evening) {
		e.resize(view.LeastWidth, view.LeastHeight) // each of three hours of seconds is drawn
		e.keys("bcopper\n3 round\nn\nbsterling\n5.5x5.5\nn\nhco")
		for range 6 {
			e.wait(15 * time.Minute)
			e.shows("HOT - NOT GLOWING")
		}
		e.keys("n")
		for range 6 {
			e.wait(15 * time.Minute)
			e.shows("piece 1 - whole", "HOT: piece 2")
		}
		e.keys("nf")
		e.shows("PROVE", "HOT PIECE LEFT", "(over now)")
		e.keys("na")
		e.wait(toastTime + time.Second)
		require.NotContains(t, e.text(), "HOT", "over and seen")
	})
}

func TestTwoPiecesTimeAtOnce(t *testing.T) {
	inEvening(t, memoryDesk, func(e *evening) {
		e.keys("bcopper\n8x8\nn\nbsterling\n3 round\nn\n")
		e.keys("h")
		e.wait(40 * time.Second)
		e.key('c')
		e.keys("n")
		e.shows("piece 1 - whole")
		e.keys("h")
		e.wait(10*time.Second - 2*keyGap)
		require.Equal(t, schedule.StepHeating, e.bench.Scene().Piece.Timer.Step)
		require.Equal(t, 10*time.Second-2*keyGap, e.bench.Scene().Piece.Timer.Elapsed, "piece 1 in the flame")
		require.Len(t, e.bench.Scene().Others, 1)
		require.Equal(t, schedule.StepSoak, e.bench.Scene().Others[0].Timer.Step)
		require.Equal(t, 20*time.Second, e.bench.Scene().Others[0].Timer.Left(), "30 s for 3 mm, 10 gone")
		e.shows("HOT: piece 2", "0:20")
		e.keys("n")
		e.shows("piece 2 - whole", "HOT: piece 1")
		e.figure("0:20")
		e.keys("o")
		require.Equal(t, []schedule.Kind{schedule.KindStarted, schedule.KindBegun}, e.kinds("piece 1"))
		require.Equal(t, []schedule.Kind{schedule.KindStarted, schedule.KindBegun, schedule.KindReached, schedule.KindOut}, e.kinds("piece 2"))
	})
}

func TestFireWatch(t *testing.T) {
	inEvening(t, memoryDesk, func(e *evening) {
		e.resize(view.LeastWidth, view.LeastHeight) // each second of an hour is drawn
		e.keys("bcopper\n8x8\nn\nt")
		e.wait(90 * time.Second)
		e.shows("torch lit", "1:30")
		e.key('t')
		require.Equal(t, []schedule.Kind{schedule.KindTorchLit, schedule.KindTorchOut}, e.hearth())
		e.wait(time.Minute)
		e.shows("fire watch", "59:00")
		e.wait(58*time.Minute + 59*time.Second)
		e.shows("fire watch", "0:01")
		e.wait(2 * time.Second)
		require.NotContains(t, e.text(), "fire watch", "an hour has passed")
		e.shows("NOTE: FIRE WATCH OVER")
		e.wait(20 * time.Minute) // it sounds three times more
		draws := e.canvas.draws.Load()
		e.wait(8 * time.Hour)
		require.Equal(t, draws, e.canvas.draws.Load(), "and nothing runs any more")
	})
}

func TestLateKeyIsPutRight(t *testing.T) {
	inEvening(t, newRecordDesk, func(e *evening) {
		e.keys("bsterling\n5.5x5.5\nn\nh")
		e.wait(time.Minute)
		reached := e.bench.now()
		e.wait(7 * time.Second)
		e.key('c')
		for range 7 {
			e.key('-') // as fast as a held key repeats
		}
		require.Equal(t, reached, e.last("piece 1", schedule.KindReached).At)
		e.figure(minutes(soak - 7*time.Second))
		e.key('+')
		require.Equal(t, reached.Add(time.Second), e.last("piece 1", schedule.KindReached).At)
		e.key('=')
		e.figure(minutes(soak - 5*time.Second))
		for range 80 {
			e.key('-')
		}
		e.shows("NOT LOGGED: it cannot be earlier than the step before it")
		begun := e.last("piece 1", schedule.KindBegun).At
		require.True(t, e.last("piece 1", schedule.KindReached).At.After(begun))
	})
}

// step is one of those that a bench is left at.
type step struct {
	name, keys, reason string
	typing             bool // a form is open, where x is a letter
}

// steps are those of an evening, each from the empty bench.
var steps = []step{
	{"empty", "", "nothing was done yet", false},
	{"form open", "b", "nothing was typed", true},
	{"metal typed", "bsterl", "half a word", true},
	{"begun", square, "a piece lies there", false},
	{"course", square + " ", "a pass is logged", false},
	{"measuring", square + " 7.", "half a figure", true},
	{"alert", square + "   7x7\n   6x6\n", "the bar flashes", false},
	{"torch", square + "t", "the torch is lit", false},
	{"heating", square + "h", "in the flame", false},
	{"soak", square + "hc", "at heat", false},
	{"measuring hot", square + "hc5", "a form over a timer", true},
	{"asked", square + "h ", "a question waits", false},
	{"out", square + "hco", "hot, and not glowing", false},
	{"quenched", square + "hcoq", "to be proved", false},
	{"pickle", square + "hcoqp", "in the bath", false},
	{"rinsed", square + "hcoqpr", "to be bent", false},
	{"soft", square + "hcoqprs", "all over again", false},
	{"near page", square + "v", "a page that is read close", false},
	{"page of keys", "?", "on an empty bench", false},
}

const square = "bsterling\n8x8\nn\n"

func TestEndsAtEveryStep(t *testing.T) {
	ways := []struct {
		name, reason string
		end          func(*evening, step)
		fails        bool
	}{
		{"x", "the smith quits; while something is hot or timing it takes two", leaveByX, false},
		{"ctrl-c", "the first leaves a form, and the last quits", leaveByCancel, false},
		{"lost", "reading the terminal failed", func(e *evening, _ step) {
			require.NoError(e.t, e.glass.PostEvent(tcell.NewEventError(errors.New("input/output error"))))
		}, true},
	}
	for _, w := range ways {
		for _, s := range steps {
			t.Run(w.name+"/"+s.name, func(t *testing.T) {
				require.NotEmpty(t, w.reason+s.reason)
				inEvening(t, memoryDesk, func(e *evening) {
					e.keys(s.keys)
					require.True(t, e.runs())
					w.end(e, s)
					err := e.result()
					require.Equal(t, w.fails, err != nil, "%v", err)
				})
			})
		}
	}
}

func leaveByX(e *evening, s step) {
	if s.typing {
		e.keys("\x1b")
	}
	e.quit()
}

func leaveByCancel(e *evening, _ step) {
	for range 3 {
		if e.runs() {
			e.keys("\x03")
		}
	}
}

func TestLeavingAsksWhileHot(t *testing.T) {
	inEvening(t, memoryDesk, func(e *evening) {
		e.keys(square + "hcx")
		require.True(t, e.runs(), "one x does not leave hot metal")
		e.shows("piece 1 is HOT", "quit all the same")
		e.wait(toastTime)
		e.keys("x")
		require.True(t, e.runs(), "an answer that comes late is a new question")
		e.keys("n")
		e.keys("x")
		require.True(t, e.runs(), "another key is a no")
		e.keys("x")
		require.False(t, e.runs())
	})
}

// failing is a desk that does what a test wants in place of its work.
type failing struct {
	Desk
	write  func() error // before it writes; nil for nothing
	others func()
}

func (f *failing) Write(entries ...schedule.Entry) error {
	if f.write != nil {
		if err := f.write(); err != nil {
			return err
		}
	}
	return f.Desk.Write(entries...)
}

func (f *failing) Start(name string, e schedule.Entry) error {
	if f.write != nil {
		if err := f.write(); err != nil {
			return err
		}
	}
	return f.Desk.Start(name, e)
}

func (f *failing) Others(piece schedule.ID, s *schedule.State) (*schedule.Observed, error) {
	if f.others != nil {
		f.others()
	}
	return f.Desk.Others(piece, s)
}

func failingDesk(t *testing.T) Desk { return &failing{Desk: memoryDesk(t)} }

// asked is a desk that others may write to, on a system that does not tell of it.
type asked struct {
	Desk
	changed func() (bool, error)
}

func (a *asked) Watch(func()) (func() error, error) { return nil, errors.ErrUnsupported }
func (a *asked) Changed() (bool, error)             { return a.changed() }

func TestPanicGivesTheScreenBack(t *testing.T) {
	cases := []struct {
		name, reason string
		open         func(*testing.T) Desk
		play         func(*evening)
	}{
		{"write", "in the answer to a key", failingDesk, func(e *evening) {
			e.keys(square)
			e.desk.(*failing).write = func() error { panic("drawer on fire") }
			e.keys(" ")
		}},
		{"others", "while a new piece is drawn", failingDesk, func(e *evening) {
			e.desk.(*failing).others = func() { panic("drawer on fire") }
			e.keys(square)
		}},
		{"changed", "when asked whether others wrote", func(t *testing.T) Desk {
			return &asked{memoryDesk(t), func() (bool, error) { panic("drawer on fire") }}
		}, func(e *evening) { e.wait(2 * time.Second) }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			inEvening(t, c.open, func(e *evening) {
				c.play(e)
				require.False(t, e.runs())
				var told *term.Panic
				require.ErrorAs(t, e.result(), &told)
				require.Equal(t, "drawer on fire", told.Value)
				require.Contains(t, string(told.Stack), "tui.(*", "the stack tells where")
			})
		})
	}
}

func TestDiskFull(t *testing.T) {
	full := func() error { return errors.New("the disk is full") }
	inEvening(t, failingDesk, func(e *evening) {
		desk := e.desk.(*failing)
		e.keys(square)
		e.wait(toastTime)
		before := e.text()
		for _, c := range []struct{ keys, reason string }{
			{" ", "a course"}, {"h", "a step of a heat"}, {"t", "the torch"}, {"l", "the light"}, {"k", "a crack"},
			{"7x7\n", "a reading, whose figures are kept"}, {"bcopper\n3 round\nn\n", "a new piece"},
		} {
			desk.write = full
			e.keys(c.keys)
			e.shows("NOT LOGGED: the disk is full")
			require.NotContains(t, e.text(), "logged: ", c.reason)
			e.keys("\x1b")
			e.wait(toastTime)
			require.Equal(t, headOf(before), headOf(e.text()), "%s: nothing is shown that is not on disk", c.reason)
			require.Equal(t, []schedule.Kind{schedule.KindStarted}, e.kinds("piece 1"), c.reason)
			require.Empty(t, e.hearth())
		}
		desk.write = nil
		e.keys(" ")
		e.shows("logged: pass: lengthen")
		require.Equal(t, []schedule.Kind{schedule.KindStarted, schedule.KindPass}, e.kinds("piece 1"))
	})
}

// headOf are the rows of the state, the figure and the gauge: what changes by entries.
func headOf(text string) string { return strings.Join(strings.Split(text, "\n")[:28], "\n") }

func TestClockIsSet(t *testing.T) {
	cases := []struct {
		name, reason string
		jumps        []time.Duration
		written      int
		restart      bool
	}{
		{"forward", "summer begins", []time.Duration{time.Hour}, 1, false},
		{"back", "summer ends", []time.Duration{-time.Hour}, 1, false},
		{"forward and back", "a mistake is mended", []time.Duration{time.Hour, -time.Hour}, 2, false},
		{"back and forward", "the other way round", []time.Duration{-time.Hour, time.Hour}, 2, false},
		{"back three times", "the line runs far ahead", []time.Duration{-time.Hour, -time.Hour, -time.Hour}, 3, false},
		{"forward three times", "what passed is shortened by three", []time.Duration{time.Hour, time.Hour, time.Hour}, 3, false},
		{"mixed", "a flat battery and a time service", []time.Duration{-time.Hour, time.Hour, time.Hour, -time.Hour, -time.Hour}, 5, false},
		{"a second", "a time service slews a clock so, and nobody set it", []time.Duration{time.Second}, 0, false},
		{"forward, restart", "the record knows it", []time.Duration{time.Hour}, 1, true},
		{"back, restart", "the line goes on ahead", []time.Duration{-time.Hour}, 1, true},
		{"mixed, restart", "both", []time.Duration{-time.Hour, time.Hour, -time.Hour, -time.Hour}, 4, true},
	}
	for _, d := range desks {
		for _, c := range cases {
			t.Run(d.name+"/"+c.name, func(t *testing.T) {
				require.NotEmpty(t, c.reason)
				inEvening(t, d.open, func(e *evening) {
					e.keys("bsterling\n5.5x5.5\nn\nh")
					e.wait(20 * time.Second)
					e.key('c')
					reached := time.Now()
					for _, jump := range c.jumps {
						e.wait(5*time.Second + 300*time.Millisecond)
						e.setClock(jump)
						e.wait(time.Second)
						e.soaking(reached)
						if c.restart {
							e.restart()
							e.soaking(reached)
						}
					}
					e.wait(3 * time.Second)
					e.soaking(reached)
					e.key('o')
					e.shows("HOT - NOT GLOWING")
					e.wait(time.Second)
					e.key('q')
					e.shows("PROVE")
					require.Len(t, e.hearth(), c.written)
					require.NotContains(t, e.hearth(), schedule.KindLight)
					require.Equal(t, []schedule.Kind{schedule.KindStarted, schedule.KindBegun, schedule.KindReached,
						schedule.KindOut, schedule.KindQuenched}, e.kinds("piece 1"))
				})
			})
		}
	}
}

// soaking requires the time left of a soak to be right within a second, in the
// figures and on the glass.
func (e *evening) soaking(reached time.Time) {
	e.t.Helper()
	left := soak - time.Since(reached)
	timer := e.bench.Scene().Piece.Timer
	require.NotNil(e.t, timer)
	require.Equal(e.t, schedule.StepSoak, timer.Step)
	require.InDelta(e.t, left.Seconds(), timer.Left().Seconds(), 1)
	text := e.text()
	shown := slices.ContainsFunc([]time.Duration{-time.Second, 0, time.Second}, func(off time.Duration) bool {
		return figureOn(text, minutes(left+off))
	})
	require.True(e.t, shown, "%s left is not on\n%s", left, text)
}

func TestBouncesCountOnce(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	inEvening(t, memoryDesk, func(e *evening) {
		e.keys("bcopper\n80 round\nn\n")
		e.wait(time.Second)
		for range 200 {
			e.key(' ')
			for range random.IntN(4) {
				e.wait(time.Duration(random.Int64N(int64(bounceTime))))
				e.key(' ')
			}
			e.wait(bounceTime + time.Duration(random.Int64N(int64(bounceTime))))
		}
		passes := slices.DeleteFunc(e.kinds("piece 1"), func(k schedule.Kind) bool { return k != schedule.KindPass })
		require.Len(t, passes, 200)
	})
}

func TestDigitsDoNotBounce(t *testing.T) {
	inEvening(t, memoryDesk, func(e *evening) {
		e.keys("bcopper\n70 round\nn\n")
		e.wait(time.Second)
		for _, r := range "66.00\n" { // a calliper sends them within a millisecond
			e.key(r)
		}
		reading := e.last("piece 1", schedule.KindMeasured).Body.(schedule.Measured).Reading
		require.Equal(t, unit.Millimetre(66), reading.Size.Diameter)
		for _, r := range "55.11\n" {
			e.key(r)
		}
		reading = e.last("piece 1", schedule.KindMeasured).Body.(schedule.Measured).Reading
		require.Equal(t, unit.Millimetre(55.11), reading.Size.Diameter)
	})
}

func TestNoDrawingWhileNothingChanges(t *testing.T) {
	cases := []struct{ name, keys, reason string }{
		{"empty", "", "nothing is there"},
		{"begun", square, "a piece lies there"},
		{"course", square + " ", "its answer is gone"},
		{"proved", square + "hcoqprs", "a heat is over"},
		{"quenched", square + "hcoq", "it waits to be proved, and nothing counts"},
		{"form", square + "7.", "nobody types"},
		{"asked", "x", "a question goes away"},
		{"near page", square + "v", "a page that is read close"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			inEvening(t, memoryDesk, func(e *evening) {
				e.keys(c.keys)
				if !e.runs() {
					return
				}
				e.wait(toastTime + time.Second)
				draws := e.canvas.draws.Load()
				e.wait(8 * time.Hour)
				require.Equal(t, draws, e.canvas.draws.Load())
				if strings.HasSuffix(c.keys, ".") {
					e.keys("\x1b")
				}
			})
		})
	}
}

func TestOneDrawingASecondWhileTiming(t *testing.T) {
	cases := []struct {
		name, keys, reason string
		least, most        int64
	}{
		{"soak", square + "hc", "the figure changes", 59, 61},
		{"soak and torch", square + "thc", "two figures, which need not change together", 59, 121},
		{"pickle", square + "hcoqp", "as for the soak", 59, 61},
		{"alert", square + "   7x7\n   6x6\n  5.5x5.5\n", "the bar turns 84 times in a minute (0.7 Hz), and the bell rings twice", 83, 88},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			inEvening(t, memoryDesk, func(e *evening) {
				e.keys(c.keys)
				e.wait(toastTime + time.Second)
				draws := e.canvas.draws.Load()
				e.wait(time.Minute)
				n := e.canvas.draws.Load() - draws
				require.GreaterOrEqual(t, n, c.least)
				require.LessOrEqual(t, n, c.most)
			})
		})
	}
}

// A second bench on the same desk shows what the first does: nothing that is seen
// is kept in memory alone.
func TestSecondBenchShowsTheSame(t *testing.T) {
	for _, d := range desks {
		for _, s := range steps {
			if s.typing || strings.Contains(s.name, "page") { // what is typed and read belongs to one screen
				continue
			}
			t.Run(d.name+"/"+s.name, func(t *testing.T) {
				inEvening(t, d.open, func(e *evening) {
					e.keys(s.keys)
					e.wait(toastTime + 700*time.Millisecond)
					second, err := NewBench(Config{Desk: e.desk, Location: time.UTC, Clock: Clock{Wall: e.wall, Boot: e.boot}})
					require.NoError(t, err)
					second.since = e.bench.since // how late an alert is told is for each to say
					first := e.bench.Scene()
					again := second.Scene()
					first.Caution, again.Caution = "", "" // once for each time that it is begun
					require.Equal(t, view.Draw(first, 120, 40).String(), view.Draw(again, 120, 40).String())
				})
			})
		}
	}
}
