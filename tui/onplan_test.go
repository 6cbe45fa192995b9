package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
	"dullred/schedule/stock"
	"dullred/tui/view"
)

// armlet is a flared band of sterling from a cast bar, 10 mm square: two tips of one
// size and a middle.
func armlet(t require.TestingT) schedule.PlanJob {
	shape, err := stock.ParseShape("0:6x3 95:18x3 190:6x3")
	require.NoError(t, err)
	return schedule.PlanJob{Shape: shape, Temper: schedule.SpringyTemper, Bend: 30, Stamp: true}
}

// onPlan begins a cast bar and plans a job for it; the page of the plan is shown.
func (s *stage) onPlan(t testing.TB, job schedule.PlanJob) *stage {
	t.Helper()
	require.NoError(t, s.start("armlet", schedule.Started{Alloy: "AG925", Calliper: 0.1, Cast: true,
		Reading: schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: 10, Width: 10}}}))
	s.wait(time.Minute)
	p, err := s.current().state().PlanOn(job, schedule.PlanKnown{Hand: stageHand})
	require.NoError(t, err)
	s.log(schedule.Planned{Plan: p})
	require.False(t, s.toast.bad, s.toast.text)
	return s.wait(time.Minute).keys("v")
}

// drawn is a course of the step's zones that ends at a size.
func (s *stage) drawn(t testing.TB, process coldwork.Process, size string) *stage {
	t.Helper()
	section, err := unit.ParseSize(size, unit.Unshaped)
	require.NoError(t, err)
	s.log(schedule.Pass{Process: process, Count: 1, Reading: schedule.Reading{Size: section}})
	require.False(t, s.toast.bad, s.toast.text)
	return s.wait(time.Minute)
}

// heated anneals the zones of the step and proves them soft.
func (s *stage) heated(t testing.TB) *stage {
	t.Helper()
	for _, key := range "hcoqprs" {
		s.keys(string(key)).wait(20 * time.Second)
		require.False(t, s.toast.bad, s.toast.text)
	}
	return s.wait(time.Minute)
}

// follows does what the page says until a step of an act is next.
func (s *stage) follows(t testing.TB, act schedule.PlanAct, more func(schedule.PlanStep) bool) *stage {
	t.Helper()
	for range 40 {
		step, ok := s.step(s.current())
		require.True(t, ok || act == "", "no step is left")
		if !ok || step.Act == act && (more == nil || more(step)) {
			return s
		}
		s.does(t, step)
	}
	require.Fail(t, "the step never comes", "%s", act)
	return s
}

// does a step by its keys.
func (s *stage) does(t testing.TB, step schedule.PlanStep) {
	t.Helper()
	at := s.following(s.current()).At
	switch {
	case step.Act == schedule.DoAnneal:
		s.heated(t)
	case step.Act == schedule.DoPass && step.StopAt.Shape != unit.Unshaped:
		s.drawn(t, step.Process, strings.ReplaceAll(step.Stop(), " round", "mm round"))
	case step.Act == schedule.DoSolder:
		s.keys(" \n\n").heated(t)
	default:
		for n := 0; n < 20 && s.following(s.current()).At == at; n++ { // to a share of the limit
			s.keys(" ").wait(time.Minute)
		}
	}
	require.Greater(t, s.following(s.current()).At, at, "%s is done", step.Title())
}

// planMoments are the states of a piece on its plan.
var planMoments = []moment{
	{"plan-fresh", func(t *testing.T, s *stage) { s.onPlan(t, armlet(t)).wait(15 * time.Second) }},
	{"plan-half", func(t *testing.T, s *stage) {
		tips(t, s).drawn(t, coldwork.Lengthen, "7x7").wait(15 * time.Second)
	}},
	{"plan-unread", func(t *testing.T, s *stage) { tips(t, s).keys(" ").wait(15 * time.Second) }},
	{"plan-inspect", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).follows(t, schedule.DoInspect, nil).wait(15 * time.Second)
	}},
	{"plan-overshot", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).drawn(t, coldwork.Lengthen, "8.8x8.8").wait(15 * time.Second)
	}},
	{"plan-again", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).drawn(t, coldwork.Lengthen, "9.6x9.6").heated(t).wait(15 * time.Second)
	}},
	{"plan-lost", func(t *testing.T, s *stage) {
		halfWay(t, s).drawn(t, coldwork.Lengthen, "7x7").wait(15 * time.Second)
	}},
	{"plan-stop-far", func(t *testing.T, s *stage) { tips(t, s).keys("\x1b").wait(15 * time.Second) }},
	{"plan-anneal-next", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).follows(t, schedule.DoAnneal, nil).wait(15 * time.Second)
	}},
	{"plan-anneal-due", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).follows(t, schedule.DoAnneal, nil).drawn(t, coldwork.Lengthen, "8.3x8.3").keys("a").wait(15 * time.Second)
	}},
	{"plan-heating", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).follows(t, schedule.DoAnneal, nil).keys("h").wait(72 * time.Second)
	}},
	{"plan-soak", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).follows(t, schedule.DoAnneal, nil).keys("hc").wait(10 * time.Second)
	}},
	{"plan-crack", func(t *testing.T, s *stage) { halfWay(t, s).keys("k").wait(15 * time.Second) }},
	{"plan-zones", func(t *testing.T, s *stage) { tips(t, s).wait(15 * time.Second) }},
	{"plan-zones-differ", func(t *testing.T, s *stage) {
		tips(t, s).keys("z").drawn(t, coldwork.Lengthen, "6.9x7").keys("zzz").wait(15 * time.Second)
	}},
	{"plan-widen", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).follows(t, schedule.DoPass, ofProcess(coldwork.Widen)).wait(15 * time.Second)
	}},
	{"plan-stamp", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).follows(t, schedule.DoStamp, nil).wait(15 * time.Second)
	}},
	{"plan-bend", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).follows(t, schedule.DoBend, nil).wait(15 * time.Second)
	}},
	{"plan-wire", func(t *testing.T, s *stage) {
		s.onPlan(t, hooked(t)).follows(t, schedule.DoPass, toRound).wait(15 * time.Second)
	}},
	{"plan-solder", func(t *testing.T, s *stage) {
		s.onPlan(t, rimmed(t)).follows(t, schedule.DoSolder, nil).wait(15 * time.Second)
	}},
	{"plan-done", func(t *testing.T, s *stage) { s.onPlan(t, armlet(t)).follows(t, "", nil).wait(15 * time.Second) }},
	{"plan-none", func(t *testing.T, s *stage) {
		s.onPlan(t, armlet(t)).piece(t, "spoon", "AG925", "8x8").keys("n").keys("vn").wait(15 * time.Second)
	}},
	{"plan-near", func(t *testing.T, s *stage) { halfWay(t, s).keys("v").wait(15 * time.Second) }},
	{"plan-bar", func(t *testing.T, s *stage) {
		halfWay(t, s).drawn(t, coldwork.Lengthen, "8.3x8.4").keys("t").wait(10 * time.Minute)
	}},
	{"plan-answer", func(t *testing.T, s *stage) { halfWay(t, s).keys(" ") }},
	{"plan-measure", func(t *testing.T, s *stage) { tips(t, s).keys("6.4") }},
}

// halfWay is the armlet after its first anneal.
func halfWay(t testing.TB, s *stage) *stage {
	return s.onPlan(t, armlet(t)).follows(t, schedule.DoPass, func(p schedule.PlanStep) bool { return p.StopAt.Thick < 9 })
}

// tips is the armlet when its tips are worked by themselves.
func tips(t testing.TB, s *stage) *stage {
	return s.onPlan(t, armlet(t)).follows(t, schedule.DoPass, func(p schedule.PlanStep) bool { return len(p.Zones) == 2 })
}

func ofProcess(p coldwork.Process) func(schedule.PlanStep) bool {
	return func(s schedule.PlanStep) bool { return s.Process == p }
}

func toRound(s schedule.PlanStep) bool { return s.StopAt.Shape == unit.Round }

// rimmed is the armlet with a soldered rim; hooked has a hook of wire as well.
func rimmed(t require.TestingT) schedule.PlanJob {
	job := armlet(t)
	job.Stamp, job.Joints = false, []heat.Joint{{Name: "rim", Solder: "hard", Solidus: 745}}
	return job
}

func hooked(t require.TestingT) schedule.PlanJob {
	job := rimmed(t)
	var err error
	job.Shape, err = job.Shape.WithTang("2x120@end")
	require.NoError(t, err)
	return job
}

// Every step done by its keys brings the next one, to the end.
func TestAPlanByItsKeys(t *testing.T) {
	for name, job := range map[string]schedule.PlanJob{"stamped and bent": armlet(t), "with a joint": rimmed(t), "with a hook": hooked(t)} {
		t.Run(name, func(t *testing.T) {
			s := newStage(t)
			s.onPlan(t, job).follows(t, "", nil)
			require.Contains(t, s.text(), "the shape is reached")
			require.Empty(t, s.following(s.current()).Changed)
			accepted(t, s)
		})
	}
}

// accepted requires that each entry of every piece could be written when it was.
func accepted(t require.TestingT, s *stage) {
	for _, p := range s.desk.Pieces {
		for i, e := range p.Entries {
			now := e.Written
			if e.At.After(now) {
				now = e.At // what was shown stands a moment after what it followed
			}
			require.NoError(t, schedule.Accept(p.Entries[:i], e, now), "%s: %s", p.Name, e.Describe())
		}
		require.Empty(t, schedule.Fold(p.Entries).Silenced)
	}
}

// What the space bar writes on each kind of step, and for which zones.
func TestSpaceOnAStep(t *testing.T) {
	cases := []struct {
		moment string
		want   string // empty writes nothing
		hint   string
		reason string
	}{
		{"plan-fresh", "pass: lengthen", "course done: lengthen", "the whole piece has no zones named"},
		{"plan-zones", "pass: lengthen (tip A, tip B)", "course done: lengthen", "the middle is left alone"},
		{"plan-widen", "pass: widen (middle)", "course done: widen", "as the step says, not as the course before"},
		{"plan-inspect", "edges dressed", "looked at and dressed", "who has filed it has looked"},
		{"plan-stamp", "pass: stamp", "stamped", "flat and soft"},
		{"plan-bend", "pass: bend to an inside radius of 30 mm", "bent, inside radius 30 mm", "with the radius of the plan"},
		{"plan-solder", "", "log the joint rim", "the form opens with what the plan knows"},
		{"plan-anneal-next", "pass: lengthen", "heat begun", "the key is what it is elsewhere"},
		{"plan-lost", "pass: lengthen", "heat begun", "as on every other page"},
		{"plan-done", "pass: ", "course done", "as on every other page"},
	}
	for _, c := range cases {
		t.Run(c.moment, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := momentNamed(t, c.moment)
			require.Equal(t, c.hint, s.Scene().Piece.Next.Words, c.reason)
			n := len(s.current().entries)
			s.keys(" ")
			if c.want == "" {
				require.IsType(t, &soldering{}, s.form)
				require.Equal(t, [3]string{"rim", "hard", "745"}, s.form.(*soldering).fields)
				require.Len(t, s.current().entries, n)
				return
			}
			require.True(t, strings.HasPrefix(s.current().entries[n].Describe(), c.want), "%s: %s", s.current().entries[n].Describe(), c.reason)
			if len(s.current().entries[n].Zones) > 0 {
				require.True(t, strings.HasSuffix(s.current().entries[n].Describe(), ")"))
			}
		})
	}
}

// momentNamed is a state of the bench by the name of its picture.
func momentNamed(t *testing.T, name string) *stage {
	t.Helper()
	for _, m := range moments {
		if m.name == name {
			return m.stage(t)
		}
	}
	require.Fail(t, "no such moment", name)
	return nil
}

// A process that is chosen against the step holds for that step alone.
func TestOtherWorkThanTheStep(t *testing.T) {
	s := newStage(t)
	halfWay(t, s).keys("i")
	require.Equal(t, coldwork.Widen, s.work(s.current()))
	s.keys(" ")
	require.Contains(t, s.toast.text, "pass: widen")
	s = newStage(t)
	s.onPlan(t, armlet(t)).follows(t, schedule.DoInspect, nil).keys("i ")
	require.Contains(t, s.toast.text, "pass: widen", "one course more before it is looked at")
	s.heated(t)
	require.Equal(t, coldwork.Lengthen, s.work(s.current()), "the next step has its own")
}

// A heat goes on in the zones that it was begun in, whatever the step is by then.
func TestAHeatKeepsItsZones(t *testing.T) {
	s := newStage(t)
	tips(t, s).keys("\x1bh")
	require.Len(t, heated(s.current().state()), 3, "begun on another page: all of it")
	s.keys("v")
	for _, key := range "coqprs" {
		s.keys(string(key)).wait(20 * time.Second)
		require.False(t, s.toast.bad, s.toast.text)
	}
	require.Empty(t, heated(s.current().state()), "no zone is left in the flame")

	s = newStage(t)
	tips(t, s).keys("h")
	require.Equal(t, []string{"tip A", "tip B"}, heated(s.current().state()))
	s.keys("\x1bv")
	for _, key := range "coqprs" {
		s.keys(string(key)).wait(20 * time.Second)
	}
	require.Empty(t, heated(s.current().state()))
	middle, _ := s.current().state().Zone("middle")
	require.True(t, middle.Heat.Begun.IsZero())
}

// The states of a plan are told apart without colour by what is in block letters.
func TestPlanStatesInOneBit(t *testing.T) {
	names := []string{"plan-fresh", "plan-half", "plan-inspect", "plan-overshot", "plan-again", "plan-lost", "plan-anneal-next",
		"plan-anneal-due", "plan-heating", "plan-soak", "plan-crack", "plan-widen", "plan-stamp", "plan-bend", "plan-wire", "plan-solder",
		"plan-done", "plan-none"}
	stages := map[string]*stage{}
	for _, name := range names {
		stages[name] = momentNamed(t, name)
	}
	for _, size := range sizes {
		rows := map[int]int{20: 15, 24: 17, 40: 25}[size.h]
		pictures := map[string][]bool{}
		for _, name := range names {
			pictures[name] = bits(stages[name].frame(size.w, size.h))[:rows*size.w]
		}
		requireApart(t, names, pictures, fmt.Sprintf("%dx%d", size.w, size.h))
	}
}

// A crack belongs to the piece, and a chosen zone comes before the step.
func TestKeysThatKeepTheirZones(t *testing.T) {
	s := newStage(t)
	tips(t, s).keys("k")
	for _, z := range s.current().state().Zones {
		require.Equal(t, schedule.CrackOpen, z.Crack, z.Name)
	}
	s.keys("k")
	require.False(t, s.toast.bad, s.toast.text)
	s.keys("zz ")
	require.False(t, s.toast.bad, s.toast.text)
	require.Contains(t, s.toast.text, "(middle)")
	require.Contains(t, s.text(), "zone middle")
}

// The page comes for a piece with a plan alone; the other pages keep their order.
func TestPagesOfAPlan(t *testing.T) {
	s := newStage(t)
	s.onPlan(t, armlet(t)).piece(t, "spoon", "AG925", "8x8")
	var pages []view.Page
	for range 4 {
		s.keys("v")
		pages = append(pages, s.page)
	}
	require.Equal(t, []view.Page{view.Near, view.Board, view.Distance, view.Near}, pages, "the spoon has none")
	s.keys("\x1bn")
	require.Equal(t, "armlet", s.current().name)
	pages = nil
	for range 4 {
		s.keys("v")
		pages = append(pages, s.page)
	}
	require.Equal(t, []view.Page{view.Plan, view.Near, view.Board, view.Distance}, pages)
	s.keys("vn")
	require.Contains(t, s.text(), `dullred plan "spoon" --shape`)
}

// Nothing is planned while the clock runs alone, nor on the other pages.
func TestATickPlansNothing(t *testing.T) {
	s := newStage(t)
	s.onPlan(t, armlet(t)).follows(t, schedule.DoAnneal, nil).keys("h").Scene()
	was := s.current().onPlan
	require.NotNil(t, was)
	s.wait(time.Second).Scene()
	require.Same(t, was, s.current().onPlan)
	s.keys("c").Scene()
	require.NotSame(t, was, s.current().onPlan, "an entry may change where it stands")
	s.keys("\x1b")
	s.drawn(t, coldwork.Lengthen, "9x9").Scene()
	require.Nil(t, s.current().onPlan)
}

// Whatever keys are pressed on the page of the plan, the record stays one that could
// be written so.
func TestAnyKeysOnThePlan(t *testing.T) {
	at := []func(testing.TB, *stage) *stage{
		func(t testing.TB, s *stage) *stage { return s.onPlan(t, armlet(t)) },
		halfWay, tips,
		func(t testing.TB, s *stage) *stage { return s.onPlan(t, rimmed(t)).follows(t, schedule.DoSolder, nil) },
	}
	pressed := rapid.SampledFrom(anyKeys())
	rapid.Check(t, func(r *rapid.T) {
		s := at[rapid.IntRange(0, len(at)-1).Draw(r, "begun")](t, newStage(t))
		for range rapid.IntRange(1, 25).Draw(r, "keys") {
			k := pressed.Draw(r, "key")
			s.Press(k)
			s.wait(time.Duration(rapid.IntRange(300, 60_000).Draw(r, "ms")) * time.Millisecond)
			if s.page != view.Plan && s.form == nil {
				s.turn(view.Plan)
			}
			view.Draw(s.Scene(), 80, 24)
		}
		accepted(r, s)
	})
}

// anyKeys are the keys of the table, figures that open the form, and those that end it.
func anyKeys() (all []Press) {
	for _, k := range keys {
		all = append(all, k.press...)
	}
	for _, r := range "9876.x" {
		all = append(all, Press{Rune: r})
	}
	return append(all, Press{Key: Enter}, Press{Key: Enter}, Press{Key: Escape}, Press{Key: Tab})
}

func TestBytesOfATickOnThePlan(t *testing.T) {
	for _, size := range []struct{ w, h int }{{120, 40}, {80, 24}} {
		for _, theme := range []view.Theme{view.Dark, view.Hearth} {
			t.Run(fmt.Sprintf("%dx%d %v", size.w, size.h, theme), func(t *testing.T) {
				h := newHandBench(t, memoryDesk(nil), size.w, size.h)
				h.theme, h.picked = theme, true
				h.press("bsterling\n10x10\nn\n")
				p, err := h.current().state().PlanOn(armlet(t), schedule.PlanKnown{})
				require.NoError(t, err)
				h.log(schedule.Planned{Plan: p})
				h.press("v")
				require.Equal(t, view.Plan, h.page)
				var sent []int
				for _, key := range []string{"h", "c", "o", "qp"} {
					h.press(key)
					part := h.ticks(200*time.Second, time.Second)
					t.Logf("%s: median %d, most %d bytes a tick", key, median(part), maxOf(part))
					sent = append(sent, part...)
				}
				judge(t, sent)
			})
		}
	}
}

func maxOf(n []int) (most int) {
	for _, i := range n {
		most = max(most, i)
	}
	return most
}

// A tick on the page of the plan while a heat runs: the scene and its frame.
func BenchmarkTickOnThePlan(b *testing.B) {
	s := newStage(b)
	s.onPlan(b, armlet(b)).follows(b, schedule.DoAnneal, nil).keys("h")
	b.ReportAllocs()
	for b.Loop() {
		s.wall, s.boot = s.wall.Add(time.Second), s.boot+time.Second
		view.Draw(s.Scene(), 120, 40)
	}
}
