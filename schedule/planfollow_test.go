package schedule_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

func sides(side unit.Millimetre) schedule.Reading { return bar(side, side) }

// planned is a bar for a job with its plan, not divided by hand.
func planned(t require.TestingT, job schedule.PlanJob) (story, schedule.Plan) {
	begin := wrought(job.Alloy)
	begin.Cast, begin.Reading.Size, begin.Length, begin.Limit = job.Cast, job.Bar, job.Length, job.Limit
	h := start(begin)
	s := h.state()
	p, err := s.PlanOn(job, schedule.PlanKnown{})
	require.NoError(t, err)
	return h.then(schedule.Planned{Plan: p}), p
}

func (h story) following(t require.TestingT) schedule.Following {
	s := h.state()
	require.Empty(t, s.Silenced)
	f, err := s.Following(schedule.PlanKnown{})
	require.NoError(t, err)
	return f
}

// does is the log of one step that is done as the plan says.
func (h story) does(job schedule.PlanJob, s schedule.PlanStep) story {
	switch s.Act {
	case schedule.DoPass:
		reading := schedule.Reading{Size: s.StopAt}
		if s.StopAt.Shape == unit.Sheet {
			reading = ring(s.StopAt.Diameter)
		}
		pass := schedule.Pass{Process: s.Process, Count: max(1, s.Courses), Reading: reading}
		if s.Turns > 0 {
			pass.Turns, pass.Over = s.Turns, job.Over
		}
		return h.then(pass, s.Zones...)
	case schedule.DoAnneal:
		return h.annealed(s.Zones...)
	case schedule.DoStamp:
		return h.then(unread(coldwork.Stamp, 1), s.Zones...)
	case schedule.DoBend:
		return h.then(schedule.Pass{Process: coldwork.Bending, Count: 1, Radius: job.Bend}, s.Zones...)
	case schedule.DoSolder:
		return h.then(schedule.Jointed{Joint: s.Zone, Solder: "hard", Solidus: s.Solidus}).annealed(s.Zones...)
	}
	return h.then(schedule.Dressed{})
}

// Whoever does what the plan says is on it to its end, and the advice never sees a
// limit crossed.
func TestFollowingAPlanToItsEnd(t *testing.T) {
	jobs := map[string]func(*schedule.PlanJob){
		"stamped, bent and springy": func(*schedule.PlanJob) {},
		"soft":                      func(j *schedule.PlanJob) { j.Temper = schedule.SoftTemper },
		"hard":                      func(j *schedule.PlanJob) { j.Stamp, j.Bend, j.Temper = false, 0, schedule.HardTemper },
		"wrought, own limit":        func(j *schedule.PlanJob) { j.Cast, j.Limit = false, "30%" },
		"with joints": func(j *schedule.PlanJob) {
			j.Joints = []heat.Joint{{Name: "hook", Solder: "easy", Solidus: 650}, {Name: "rim", Solder: "hard", Solidus: 745}}
		},
		"twisted in parts": func(j *schedule.PlanJob) {
			j.Shape, j.Stamp, j.Turns, j.Over = shapeOf(t, "0:5x5 200:5x5"), false, 10, 150
		},
		"twisted with tangs": func(j *schedule.PlanJob) {
			tanged, err := shapeOf(t, "0:5x5 150:5x5").WithTang("2x60@end")
			require.NoError(t, err)
			j.Shape, j.Stamp, j.Bend, j.Turns, j.Over = tanged, false, 0, 3, 150
		},
		"one zone": func(j *schedule.PlanJob) { j.Shape = shapeOf(t, "0:12x4 60:12x4") },
	}
	for name, change := range jobs {
		t.Run(name, func(t *testing.T) {
			job := flared(t)
			change(&job)
			h, p := planned(t, job)
			for i, s := range p.Steps {
				f := h.following(t)
				if f.At == i+1 && s.Act == schedule.DoPass {
					continue // a tenth of a millimetre, which the calliper does not show
				}
				require.Equal(t, i, f.At, "before step %d, %s %s", i+1, s.Act, s.Zone)
				require.False(t, f.Again, f.Changed)
				require.Equal(t, p, f.Plan)
				require.NotEqual(t, schedule.VerdictAnnealNow, h.advice().Verdict, "before step %d", i+1)
				h = h.does(p.Job, s)
			}
			f := h.following(t)
			require.Equal(t, len(p.Steps), f.At)
			_, left := f.Step()
			require.False(t, left)
		})
	}
}

func TestFollowing(t *testing.T) {
	h, p := planned(t, flared(t))
	first := course(coldwork.Lengthen, sides(9.1))
	cases := []struct {
		name    string
		story   story
		act     schedule.PlanAct
		changed string
		anneals int
		reason  string
	}{
		{"begun", h, schedule.DoPass, "", 4, "10 mm square"},
		{"half way", h.then(course(coldwork.Lengthen, sides(9.5))), schedule.DoPass, "", 4, "the stop is 9.1"},
		{"a tenth under", h.then(course(coldwork.Lengthen, sides(9.0))), schedule.DoInspect, "", 4, "2 % of 9.1 mm is 0.18"},
		{"looked at", h.then(first).then(schedule.Dressed{}), schedule.DoAnneal, "", 4, "who dressed it has looked"},
		{"in the flame", h.then(first).then(schedule.Begun{}), schedule.DoAnneal, "", 4, "a heat begun says that it was looked at"},
		{"a course that nobody read, after the heat", h.then(first).annealed().then(unread(coldwork.Lengthen, 1)), schedule.DoPass, "", 4, "the heat was given at 9.1"},
		{"half way after the heat", h.then(first).annealed().then(course(coldwork.Lengthen, sides(8.6))), schedule.DoPass, "", 4, "on to 7.5"},
		{"heated, read late", h.then(unread(coldwork.Lengthen, 2)).annealed().then(course(coldwork.Lengthen, sides(8.6))), schedule.DoPass, "", 4, "nobody read 9.1, but it was annealed once"},
		{"annealed", h.then(first).annealed(), schedule.DoPass, "", 4, "soft: on to 7.5"},
		{"overshot", h.then(course(coldwork.Lengthen, sides(8.8))), schedule.DoInspect, "it is at 8.8x8.8 mm and not at 9.1x9.1 mm: 4 anneals to go, as planned", 4, "past the stop by more than a hammer's slack"},
		{"annealed too soon", h.then(course(coldwork.Lengthen, sides(9.6))).annealed(), schedule.DoPass, "to go", 4, "0.08 worked, and the limit is that of wrought metal only after half of the first"},
		{"an anneal left out", h.then(first).then(course(coldwork.Lengthen, sides(7.5))), schedule.DoInspect, "would cross its limit before the next anneal: 4 anneals to go where the plan had 3", 5, "the tips cannot be drawn on in the same interval"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := c.story.following(t)
			step, ok := f.Step()
			require.True(t, ok, c.reason)
			require.Equal(t, c.act, step.Act, c.reason)
			require.Equal(t, c.changed != "", f.Again, f.Changed)
			require.Contains(t, f.Changed, c.changed, c.reason)
			require.Equal(t, c.anneals, f.Plan.Anneals, c.reason)
			require.Empty(t, f.Lost)
			if !f.Again {
				require.Equal(t, p, f.Plan)
			}
		})
	}
}

func TestFollowingSaysHowFar(t *testing.T) {
	h, _ := planned(t, flared(t))
	f := h.then(course(coldwork.Lengthen, bar(9.5, 9.6))).following(t)
	require.Len(t, f.ToGo, 3)
	require.InDelta(t, 0.4, float64(f.ToGo[1].Thick), 1e-9)
	require.InDelta(t, 0.5, float64(f.ToGo[1].Wide), 1e-9)
	require.Equal(t, "middle", f.ToGo[1].Zone)
}

// A middle of 49 of its 54 mm² makes no plan, old or new.
func TestFollowingAPlanThatIsLost(t *testing.T) {
	h, p := planned(t, flared(t))
	f := h.then(course(coldwork.Lengthen, sides(9.1))).annealed().then(course(coldwork.Lengthen, sides(7))).following(t)
	require.Contains(t, f.Lost, "the section of the middle cannot be reached")
	require.Equal(t, p, f.Plan)
	require.False(t, f.Again)
}

func TestFollowingWithoutAPlan(t *testing.T) {
	s := start(wrought("AG925")).state()
	_, err := s.Following(schedule.PlanKnown{})
	require.ErrorIs(t, err, schedule.ErrNoPlan)
}

// Work out of the order of the plan is taken as it comes, as long as no zone is
// past what it may be.
func TestFollowingOutOfOrder(t *testing.T) {
	h, p := planned(t, flared(t))
	var tips int
	for i, s := range p.Steps {
		if s.Act == schedule.DoPass && slices.Equal(s.Zones, []string{"tip A", "tip B"}) {
			tips = i
			break
		}
		h = h.does(p.Job, s)
	}
	stop := schedule.Reading{Size: p.Steps[tips].StopAt}
	one := h.then(course(coldwork.Lengthen, stop), "tip B")
	f := one.following(t)
	require.Equal(t, tips, f.At)
	require.InDelta(t, 0, float64(f.ToGo[1].Thick), 1e-9, "tip B is there")
	require.Positive(t, float64(f.ToGo[0].Thick), "tip A is not")
	f = one.then(course(coldwork.Lengthen, stop), "tip A").following(t)
	require.Equal(t, tips+1, f.At)
}

// A plan divides a piece that is one zone, each part as the whole was; one that is
// divided otherwise refuses it.
func TestAPlanDividesAPiece(t *testing.T) {
	h, p := planned(t, flared(t))
	s := h.then(course(coldwork.Lengthen, sides(9.5)), schedule.Whole).state()
	require.Empty(t, s.Silenced, "the whole is still a name for all of it")
	require.Len(t, s.Zones, 3)
	for _, z := range s.Zones {
		require.EqualValues(t, 9.5, z.Tally.Section().Thick, z.Name)
	}
	now := h.now()
	for metal, says := range map[string]string{"AG925": "start a piece without zones", "CU101": "the plan is for AG925 and the piece is CU101"} {
		other := start(wrought(metal, "rim", "foot"))
		require.ErrorContains(t, schedule.Accept(other, entryAt(1, schedule.Planned{Plan: p}), now), says)
	}
	require.NoError(t, schedule.Accept(start(wrought("AG925", "tip A", "middle", "tip B")), entryAt(1, schedule.Planned{Plan: p}), now))
}

// The middle needs 54 mm². At 7.5 mm square it has 56.25, which is within 5 %.
func TestAdviceStopsTheDrawing(t *testing.T) {
	h, _ := planned(t, flared(t))
	h = h.then(course(coldwork.Lengthen, sides(9.1))).annealed().then(course(coldwork.Lengthen, sides(7.7)))
	require.Empty(t, h.advice().Stop, "59.3 mm²: 10 % to go")
	h = h.then(course(coldwork.Lengthen, sides(7.5)))
	a := h.advice()
	require.Contains(t, a.Stop, "stop drawing the middle, work the ends")
	require.Contains(t, a.Next, a.Stop)
	require.Contains(t, a.Reasons, a.Stop)
	h = h.annealed().then(course(coldwork.Lengthen, sides(6.5)), "tip A", "tip B")
	require.Empty(t, h.advice().Stop, "the ends are drawn now")
	h = h.then(course(coldwork.Widen, bar(5, 10.5)), "middle")
	require.Contains(t, h.advice().Stop, "the middle is too thin", "52.5 mm², however it came to it")
}

func TestAPlanIsKeptWhole(t *testing.T) {
	_, p := planned(t, flared(t))
	row, err := schedule.Encode(entryAt(1, schedule.Planned{Plan: p}))
	require.NoError(t, err)
	back, err := schedule.Decode(row)
	require.NoError(t, err)
	require.Equal(t, schedule.Planned{Plan: p}, back.Body)
	require.Less(t, len(row.Body), 16<<10, "a plan is a line of the record, no book")
	require.Contains(t, back.Describe(), "4 anneals")
}

func TestPlannedRefusesWhatCannotBe(t *testing.T) {
	_, p := planned(t, flared(t))
	for reason, change := range map[string]func(*schedule.Plan){
		"no share of a limit is less than nothing": func(p *schedule.Plan) { p.Steps[0].LimitSpent = -1 },
		"a plan of 2,000 steps":                    func(p *schedule.Plan) { p.Steps = make([]schedule.PlanStep, 2000) },
		"no bar":                                   func(p *schedule.Plan) { p.Job.Bar = unit.Size{} },
		"no shape":                                 func(p *schedule.Plan) { p.Job.Shape.Stations = nil },
	} {
		bad := p
		bad.Steps = slices.Clone(p.Steps)
		change(&bad)
		require.Error(t, schedule.Accept(start(wrought("AG925")), entryAt(1, schedule.Planned{Plan: bad}), evening.Add(1e12)), reason)
	}
	_, err := schedule.Decode(schedule.Row{})
	require.Error(t, err)
	var kept schedule.Planned
	require.Error(t, json.Unmarshal([]byte(`{"plan":{"v":2}}`), &kept), "a later form")
}

func BenchmarkFollowing(b *testing.B) {
	h, _ := planned(b, flared(b))
	s := h.then(course(coldwork.Lengthen, sides(8.8))).state()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Following(schedule.PlanKnown{}); err != nil {
			b.Fatal(err)
		}
	}
}

// Whatever is done to a piece, it is somewhere on a plan: on the kept one, on one
// whose rest keeps every limit, or it is told why there is none.
func TestFollowingWhatever(t *testing.T) {
	begun, p := planned(t, flared(t))
	zones := [][]string{nil, {"tip A", "tip B"}, {"middle"}, {"tip B"}}
	rapid.Check(t, func(t *rapid.T) {
		h := begun
		for range rapid.IntRange(0, 8).Draw(t, "acts") {
			at := rapid.SampledFrom(zones).Draw(t, "zones")
			side := unit.Millimetre(rapid.IntRange(30, 100).Draw(t, "side")) / 10
			var next story
			switch rapid.SampledFrom([]string{"draw", "draw", "spread", "anneal", "begin", "stamp", "bend", "dress"}).Draw(t, "act") {
			case "draw":
				next = h.then(course(coldwork.Lengthen, sides(side)), at...)
			case "spread":
				next = h.then(course(coldwork.Widen, bar(side, side*2)), at...)
			case "anneal":
				next = h.annealed(at...)
			case "begin":
				next = h.then(schedule.Begun{}, at...)
			case "stamp":
				next = h.then(unread(coldwork.Stamp, 1), at...)
			case "bend":
				next = h.then(schedule.Pass{Process: coldwork.Bending, Count: 1, Radius: 30}, at...)
			case "dress":
				next = h.then(schedule.Dressed{})
			}
			if last := next[len(next)-1]; schedule.Accept(next[:len(next)-1], last, next.now()) == nil {
				h = next
			}
		}
		f := h.following(t)
		require.True(t, f.At >= 0 && f.At <= len(f.Plan.Steps))
		require.Equal(t, f.Again, f.Changed != "")
		require.NotEmpty(t, f.Text())
		require.False(t, f.Again && f.Lost != "")
		if !f.Again {
			require.Equal(t, p, f.Plan)
		}
		for _, s := range f.Plan.Steps[f.At:] {
			require.False(t, f.Again && s.Act == schedule.DoPass && s.LimitSpent > 1+1e-9, "%s crosses the limit", s.Line())
		}
		require.Equal(t, f, h.following(t), "the same log, the same place")
	})
}
