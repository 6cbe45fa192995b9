package schedule_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// What each kind of work puts in, by formulas written out here.
func TestWorkOfAZone(t *testing.T) {
	plane := 2 / math.Sqrt(3) // a strip or wall whose width does not change
	drawing := func(share float64) float64 { return -math.Log(1 - share) }
	bowl := schedule.Started{Alloy: "C11000", Reading: vessel(1.2, 150), Calliper: 0.1}
	for _, c := range []struct {
		name, reason string
		story        story
		want, near   float64
	}{
		{"fresh", "nothing was done", start(wrought("AG925")), 0, 0},
		{"drawn out", "a reduction of area is a drawing", start(wrought("AG925")).then(drawnBy(0.3)), drawing(0.3), 1e-9},
		{"rolled sheet", "plane strain of the thickness", start(schedule.Started{Alloy: "AG925", Reading: sheet(1), Calliper: 0.01}).then(course("roll", sheet(0.8))), plane * math.Log(1/0.8), 1e-9},
		{"drawn wire", "area by the diameter squared", start(schedule.Started{Alloy: "AG925", Reading: wire(3), Calliper: 0.01}).then(course("draw", wire(2.5))), 2 * math.Log(3/2.5), 1e-9},
		{"raised", "a wall keeps its thickness: plane strain of its ring", start(bowl).then(course("raise", ring(141))).then(course("raise", ring(132))), plane * math.Log(150./132), 1e-9},
		{"sunk", "a ring that grows is worked as well", start(bowl).then(course("sink", ring(160))), plane * math.Log(160./150), 1e-9},
		{"raised from a disc", "the first ring has nothing before it: its course is estimated", start(schedule.Started{Alloy: "C11000", Reading: sheet(1.2), Calliper: 0.1}).then(course("raise", ring(150))), 0.1104, 5e-4},
		{"bent", "the outer skin: t/(2r+t) of 8 mm round 28", start(wrought("AG925")).then(schedule.Pass{Process: "bend", Count: 1, Radius: 28}), plane * math.Log1p(8./64), 1e-9},
		{"bent and straightened", "both ways count", start(wrought("AG925")).then(schedule.Pass{Process: "bend", Count: 2, Radius: 28}), 2 * plane * math.Log1p(8./64), 1e-9},
		{"twisted", "half the diagonal at the surface: 2π r/(l √3)", start(wrought("AG925")).then(schedule.Pass{Process: "twist", Count: 1, Turns: 1, Over: 100}), 2 * math.Pi * math.Hypot(4, 4) / 100 / math.Sqrt(3), 1e-9},
		{"stamped", "the punch works under itself, not the section", start(wrought("AG925")).then(unread("stamp", 3)), 0, 0},
		{"measured only", "a calliper does no work", start(wrought("AG925")).then(schedule.Measured{Reading: bar(8, 8)}), 0, 0},
		{"filed", "metal taken off is no metal worked", start(wrought("AG925")).then(schedule.Filed{Reading: bar(6, 8)}), 0, 0},
		{"filed, then drawn out", "from the filed section on", start(wrought("AG925")).then(schedule.Filed{Reading: bar(6, 6)}).then(course("lengthen", bar(5.4, 5.4))), 2 * math.Log(6/5.4), 1e-9},
		{"drawn out, then filed", "what was worked stays worked", start(wrought("AG925")).then(drawnBy(0.3)).then(schedule.Filed{Reading: bar(5, 6)}), drawing(0.3), 1e-9},
		{"edges dressed", "rounding an edge changes no section", start(wrought("AG925")).then(drawnBy(0.3)).then(schedule.Dressed{}), drawing(0.3), 1e-9},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.InDelta(t, c.want, c.story.done(), c.near+1e-12, c.reason)
		})
	}
}

// 0.11 is a judgement; the mean of the assumed spread is a little above it.
func TestUnreadCoursesAreEstimatedThenCorrected(t *testing.T) {
	h := start(wrought("AG925")).then(unread("lengthen", 1))
	one := h.done()
	require.InDelta(t, 0.11, one, 0.01)
	soft := coldwork.Effort(unit.Strain(one))
	require.InDelta(t, float64(coldwork.Given(3*soft)), h.then(unread("lengthen", 2)).done(), 1e-9, "the metal stiffens")
	require.Contains(t, h.advice().Reasons, "no course of this hand is measured yet: 0.11 a course is assumed (a judgement)")
	require.Contains(t, h.advice().Reasons, "1 course since the last reading, estimated until the next one")

	read := h.then(schedule.Measured{Reading: bar(7.8, 7.8)})
	require.InDelta(t, 2*math.Log(8/7.8), read.done(), 1e-9, "a light course: the reading counts, not the estimate")
	require.NotContains(t, saying(read.advice()), "since the last reading")
	require.Contains(t, saying(read.advice()), "learned from 1 measured course")
	next := read.then(unread("lengthen", 1)).done() - read.done()
	require.Less(t, next, one, "what the hand showed is expected of it")
}

// A hand that was measured elsewhere is known here.
func TestOtherPiecesTeachTheForecast(t *testing.T) {
	heavy := start(wrought("AG925")).then(drawnBy(0.25)).then(schedule.Filed{Reading: bar(8, 8)}).then(drawnBy(0.25))
	fresh := start(wrought("AG925")).state()
	alone, taught := fresh.Advise(evening, nil), fresh.Advise(evening, &schedule.Observed{Courses: heavy.state().Courses})
	require.Less(t, taught.Courses.Likely, alone.Courses.Likely)
	require.Contains(t, saying(taught), "learned from 2 measured courses")
	copper := start(wrought("C11000")).state()
	require.NotContains(t, saying(copper.Advise(evening, &schedule.Observed{Courses: heavy.state().Courses})), "learned", "silver says nothing of copper")
}

// The forecast is for the hand that worked the zone last.
func TestEachHandIsItsOwn(t *testing.T) {
	other := func(h story, b schedule.Body) story {
		h = h.then(b)
		h[len(h)-1].Hand = bench
		return h
	}
	heavy := start(wrought("AG925")).then(course("lengthen", bar(7.2, 7.2)))
	light := other(heavy, course("lengthen", bar(7, 7)))
	require.Greater(t, heavy.advice().Hand.PerCourse(), light.advice().Hand.PerCourse())
	seen := light.state().Courses
	require.Equal(t, []string{string(hand), string(bench)}, []string{seen[0].Hand, seen[1].Hand})
	require.Equal(t, 1, light.advice().Hand.Seen(), "the heavy courses are not its own")
	back := light.then(course("lengthen", bar(6.5, 6.5)))
	require.Equal(t, 2, back.advice().Hand.Seen())
}

func TestThereAndBackIsWorkedTwice(t *testing.T) {
	once := start(wrought("AG925")).then(course("lengthen", bar(6.6, 7.6)))
	twice := once.then(course("widen", bar(8, 8)))
	require.InDelta(t, 2*once.done(), twice.done(), 1e-9, "lengthened, read, widened back, read")

	unseen := start(wrought("AG925")).then(unread("lengthen", 1))
	small := unseen.then(course("widen", bar(7.9, 8)))
	both := float64(coldwork.Given(2 * coldwork.Effort(unit.Strain(unseen.done()))))
	require.InDelta(t, both, small.done(), 1e-9, "not read between: the reading shows less than two courses put in")
	large := unseen.then(course("widen", bar(5, 7)))
	require.Greater(t, large.done(), 2*unseen.done(), "or more: then the reading counts")
	require.InDelta(t, start(wrought("AG925")).then(course("widen", bar(5, 7))).done(), large.done(), 1e-9)
}

// A calliper that is wrong by 0.1 mm makes work of nothing if every reading is
// believed: 20 readings that jitter by 0.05 mm.
func TestJitterIsNoWork(t *testing.T) {
	h := start(wrought("AG925"))
	for i := range 20 {
		d := unit.Millimetre(0.05 * float64(i%3-1))
		h = h.then(schedule.Measured{Reading: bar(8+d, 8-d)})
	}
	oneError := start(wrought("AG925")).then(course("lengthen", bar(7.9, 8))).done()
	require.Less(t, h.done(), oneError)
	require.Less(t, h.then(schedule.Measured{Reading: bar(8, 8)}).done(), 1e-9, "back where it started")
}

// Small steps one way are netted too, and are not lost.
func TestSmallStepsAddUp(t *testing.T) {
	h := start(wrought("AG925"))
	for i := range 10 {
		side := unit.Millimetre(8 - 0.06*float64(i+1))
		h = h.then(course("planish", bar(side, side)))
	}
	require.InDelta(t, 2*math.Log(8/7.4), h.done(), 1e-9)
}

func TestStampingIsLocal(t *testing.T) {
	h := start(wrought("AG925")).then(unread("stamp", 2)).then(unread("stamp", 1))
	require.Contains(t, h.advice().Reasons, "3 courses of stamping since it was last soft: local work, not in the sum; anneal before bending")
	require.NotContains(t, saying(h.annealed().advice()), "stamping", "soft again")
	require.Equal(t, 3, h.state().Zones[0].Courses)
}

func TestHardnessIsReadOrAbsent(t *testing.T) {
	strip := start(wrought("AG925")).then(drawnBy(0.2)).advice()
	require.Regexp(t, `hardness: about \d+ to \d+ HV \(rolled strip\)`, saying(strip))
	drawn := schedule.Started{Alloy: "AG925", Reading: wire(3), Calliper: 0.01}
	require.Contains(t, saying(start(drawn).advice()), "drawn wire", "a round is judged as wire, never as strip")
	far := start(wrought("AG925")).then(drawnBy(0.8)).advice()
	require.Contains(t, saying(far), "hardness: nothing is published for sterling silver rolled strip at this work")
}

// A fresh bar of a metal whose first limit is less than one heavy course is not
// sent back to the fire: it is soft, and is to be struck lightly.
func TestSoftMetalIsNotAnnealedAgain(t *testing.T) {
	bar := schedule.Started{Alloy: "C52400", Cast: true, Calliper: 0.1,
		Reading: schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: 10, Width: 6}}}
	e := schedule.Entry{ID: schedule.NewID(), At: time.Unix(0, 0).UTC(), Piece: schedule.NewID(), Version: 1, Body: bar}
	s := schedule.Fold([]schedule.Entry{e})
	a := s.Advise(e.At, nil)
	require.Equal(t, schedule.VerdictCarryOn, a.Verdict)
	require.Zero(t, a.Courses.Low)
	require.Contains(t, a.Next, "work lightly")
}
