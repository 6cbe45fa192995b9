package schedule_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
	"dullred/schedule/stock"
)

func shapeOf(t require.TestingT, text string) stock.Shape {
	s, err := stock.ParseShape(text)
	require.NoError(t, err)
	return s
}

// flared is a band 190 mm long, 18 mm wide in the middle and 6 at its ends.
func flared(t require.TestingT) schedule.PlanJob {
	return schedule.PlanJob{Alloy: "AG925", Cast: true, Bar: unit.Size{Shape: unit.Rectangular, Thick: 10, Width: 10}, Length: 74,
		Shape: shapeOf(t, "0:6x3 95:18x3 190:6x3"), Stamp: true, Bend: 30, Temper: schedule.SpringyTemper}
}

func planOf(t require.TestingT, job schedule.PlanJob) schedule.Plan {
	p, err := schedule.PlanIn(nil, job, schedule.PlanKnown{})
	require.NoError(t, err)
	follow(t, p)
	return p
}

// zoneNow is a zone that a plan is followed on, with the tally that its log would
// have.
type zoneNow struct {
	least   unit.SquareMillimetre
	section coldwork.Section
	tally   coldwork.Tally
	cast    bool
}

// follow does what a plan says, one reading after each pass, and requires of the
// log what the plan promised: the same work, never above the limit, never a zone
// that grows or falls below its finished area, stamped soft.
func follow(t require.TestingT, p schedule.Plan) map[string]*zoneNow {
	now := map[string]*zoneNow{}
	for _, z := range p.Zones {
		s := coldwork.Section(p.Job.Bar)
		now[z.Name] = &zoneNow{least: z.Least, section: s, tally: coldwork.Tally{}.Reset(s), cast: p.Job.Cast}
	}
	anneals := 0
	for i, s := range p.Steps {
		require.LessOrEqual(t, s.LimitSpent, 1+1e-9, "step %d", i+1)
		most, share := unit.Strain(0), -1.0
		for _, name := range s.Zones {
			if w, spent := now[name].after(t, p, s); spent > share {
				most, share = w, spent
			}
		}
		require.InDelta(t, share, s.LimitSpent, 1e-6, "step %d", i+1)
		require.InDelta(t, float64(most.Worked()), float64(s.Worked), 1e-6, "step %d: the log has the same work", i+1)
		if s.Act == schedule.DoAnneal {
			anneals++
		}
	}
	require.Equal(t, p.Anneals, anneals)
	return now
}

func (z *zoneNow) after(t require.TestingT, p schedule.Plan, s schedule.PlanStep) (work unit.Strain, spent float64) {
	prior := coldwork.Prior
	switch s.Act {
	case schedule.DoPass:
		if s.StopAt.Shape == unit.Unshaped {
			z.tally = z.tally.Wait(s.Process, s.Courses)
			break
		}
		to := coldwork.Section(s.StopAt)
		require.NoError(t, z.section.CheckChange(to, 0.01))
		a0, _ := z.section.Area()
		a1, _ := to.Area()
		require.LessOrEqual(t, float64(area(to)), float64(area(z.section))+1e-6, "%v to %v grows (%v, %v)", z.section, to, a0, a1)
		require.GreaterOrEqual(t, float64(area(to)), float64(z.least)-1e-6, "%v is under what is needed", to)
		require.LessOrEqual(t, thin(to), thin(z.section)+1e-6, "no hammer makes it thicker")
		z.tally, _ = z.tally.Wait(s.Process, s.Courses).Read(to, 1e-9)
		z.section = to
	case schedule.DoBend:
		z.tally = z.tally.Shape(coldwork.Estimate{Strain: bendOf(p, z)})
	case schedule.DoStamp:
		require.Less(t, float64(z.tally.Worked(0.1, prior).Strain), 0.036, "it is stamped soft")
	case schedule.DoAnneal, schedule.DoSolder:
		first := p.First.Strain
		z.cast = z.cast && z.tally.Worked(0.1, prior).Strain < first/2
		z.tally = z.tally.Soft()
	}
	w := z.tally.Worked(0.1, prior).Strain
	limit := p.Limit.Strain
	if z.cast {
		limit = p.First.Strain
	}
	require.LessOrEqual(t, float64(w), float64(limit)+1e-9, "%s crosses the limit at %v", s.Zone, s.StopAt)
	return w, float64(w / limit)
}

// bendOf is the strain in the skin of a zone that is bent as the plan says. Wire
// is not bent round the former.
func bendOf(p schedule.Plan, z *zoneNow) unit.Strain {
	if z.section.Shape == unit.Round && len(p.Job.Shape.Tangs) > 0 {
		return 0
	}
	return coldwork.Bend(z.section.Depth(), p.Job.Bend)
}

func area(s coldwork.Section) unit.SquareMillimetre {
	if s.Shape == unit.Round {
		return unit.SquareMillimetre(math.Pi / 4 * float64(s.Diameter*s.Diameter))
	}
	return unit.SquareMillimetre(s.Thick * s.Width)
}

func thin(s coldwork.Section) float64 {
	if s.Shape == unit.Round {
		return float64(s.Diameter) * math.Sqrt(math.Pi) / 2
	}
	return float64(min(s.Thick, s.Width))
}

func acts(p schedule.Plan) (all []schedule.PlanAct) {
	for _, s := range p.Steps {
		all = append(all, s.Act)
	}
	return all
}

// The flared band: a plan worked by hand for the same bar takes 7 anneals with no
// step above 45 %, draws the bar to 7.5 mm square, 56 of the 54 mm² that its middle
// must keep, and the tips to 4.3.
func TestPlanOfAFlaredBand(t *testing.T) {
	p := planOf(t, flared(t))
	require.LessOrEqual(t, p.Anneals, 7)
	var whole []unit.Size
	for _, s := range p.Steps {
		if s.Act == schedule.DoPass && s.Zone == schedule.Whole && s.Process == coldwork.Lengthen {
			whole = append(whole, s.StopAt)
		}
	}
	require.Equal(t, unit.Size{Shape: unit.Rectangular, Thick: 7.5, Width: 7.5}, whole[len(whole)-1])
	require.Equal(t, schedule.DoInspect, p.Steps[1].Act, "a casting is looked at after its first pass")
	all := acts(p)
	stamp := slices.Index(all, schedule.DoStamp)
	require.Equal(t, schedule.DoAnneal, all[stamp-1], "soft when it is stamped")
	require.Greater(t, slices.Index(all, schedule.DoBend), stamp, "bent after it is stamped")
	last := p.Steps[len(p.Steps)-1]
	require.InDelta(t, 0.375, last.LimitSpent, 0.125, "springy is a quarter to a half")
	require.Contains(t, fmt.Sprint(p.Notes), "Or leave it soft and age it", "the other way to the same end, without a joint")
	require.InDelta(t, 76.66, float64(p.Mass.Bar), 0.01)
	require.InDelta(t, 70.86, float64(p.Mass.Finished), 0.01)
	require.Greater(t, p.Minutes, 30.0)
	for _, s := range p.Steps {
		if s.Act == schedule.DoAnneal {
			require.Equal(t, []unit.Celsius{593, 649}, []unit.Celsius{s.Low, s.High})
			require.Greater(t, s.Minutes, 1.0)
		}
	}
}

func TestPlans(t *testing.T) {
	cases := []struct {
		name   string
		change func(*schedule.PlanJob)
		check  func(*testing.T, schedule.Plan)
		reason string
	}{
		{"a bar that is the piece", func(j *schedule.PlanJob) {
			*j = schedule.PlanJob{Alloy: "AG925", Bar: j.Bar, Shape: shapeOf(t, "0:10x10 70:10x10")}
		}, func(t *testing.T, p schedule.Plan) { require.Empty(t, p.Steps) }, "nothing is to be done"},
		{"one zone", func(j *schedule.PlanJob) { j.Shape = shapeOf(t, "0:8x3 100:8x3") }, func(t *testing.T, p schedule.Plan) {
			require.Len(t, p.Zones, 1)
			require.Equal(t, schedule.Whole, p.Zones[0].Name)
		}, "a prismatic piece"},
		{"soft", func(j *schedule.PlanJob) { j.Temper = schedule.SoftTemper }, func(t *testing.T, p schedule.Plan) {
			require.Equal(t, schedule.DoAnneal, p.Steps[len(p.Steps)-1].Act)
		}, "the last act is a heat"},
		{"springy by its last passes", func(j *schedule.PlanJob) { j.Stamp, j.Bend = false, 0 }, func(t *testing.T, p schedule.Plan) {
			require.NotContains(t, acts(p), schedule.DoStamp)
			last := p.Steps[len(p.Steps)-1]
			require.NotEqual(t, coldwork.Planish, last.Process)
			require.InDelta(t, 0.375, last.LimitSpent, 0.1251)
		}, "what is not stamped keeps its last thickness for after the heat"},
		{"hard", func(j *schedule.PlanJob) { j.Stamp, j.Temper = false, schedule.HardTemper }, func(t *testing.T, p schedule.Plan) {
			require.GreaterOrEqual(t, p.Steps[len(p.Steps)-1].LimitSpent, 0.695)
		}, "70 % of the limit or more"},
		{"age-hardened with a joint", func(j *schedule.PlanJob) {
			j.Temper, j.Joints = schedule.AgeHardened, []heat.Joint{{Name: "rim", Solder: "hard", Solidus: 745}}
		}, func(t *testing.T, p schedule.Plan) {
			require.Contains(t, fmt.Sprint(p.Notes), "no soak above them")
			require.Contains(t, fmt.Sprint(p.Notes), "316 °C")
		}, "the soak melts the solder"},
		{"joints", func(j *schedule.PlanJob) {
			j.Joints = []heat.Joint{{Name: "hook", Solder: "easy", Solidus: 650}, {Name: "rim", Solder: "hard", Solidus: 745}}
		}, func(t *testing.T, p schedule.Plan) {
			i := slices.Index(acts(p), schedule.DoSolder)
			require.Equal(t, "rim", p.Steps[i].Zone, "the hardest solder first")
			require.Equal(t, "hook", p.Steps[i+1].Zone)
			require.Zero(t, p.Steps[i+1].LimitSpent, "a heat leaves it soft")
		}, "each joint is a heat"},
		{"a tang", func(j *schedule.PlanJob) {
			s, err := shapeOf(t, "0:6x1.5 50:8x3 100:6x1.5").WithTang("2x120@end")
			require.NoError(t, err)
			j.Shape = s
		}, func(t *testing.T, p schedule.Plan) {
			require.Equal(t, "tang B", p.Zones[3].Name)
			require.True(t, slices.ContainsFunc(p.Steps, func(s schedule.PlanStep) bool {
				return s.Process == coldwork.Draw && s.StopAt == unit.Size{Shape: unit.Round, Diameter: 2}
			}))
		}, "its wire goes through the plate"},
		{"a round bar to a round rod", func(j *schedule.PlanJob) {
			j.Bar, j.Length, j.Shape = unit.Size{Shape: unit.Round, Diameter: 8}, 0, shapeOf(t, "0:4 round 60:4 round")
		}, func(t *testing.T, p schedule.Plan) {
			require.Contains(t, fmt.Sprint(p.Notes), "not checked")
		}, "square, then round again"},
		{"an own limit", func(j *schedule.PlanJob) { j.Limit = "25%" }, func(t *testing.T, p schedule.Plan) {
			require.Equal(t, 7, p.Anneals)
			require.Equal(t, coldwork.OwnSchool, p.Limit.School)
		}, "about 2.1 of strain in the tips, in steps of 0.332"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			job := flared(t)
			c.change(&job)
			c.check(t, planOf(t, job))
		})
	}
}

func TestNoPlan(t *testing.T) {
	cases := []struct {
		name   string
		change func(*schedule.PlanJob)
		says   string
		reason string
	}{
		{"a short bar", func(j *schedule.PlanJob) { j.Length = 65.5 }, "the bar is 3.0 g short", "6,550 mm³ of 10.36 g/cm³ are 67.86 g, and 70.86 g are needed"},
		{"too wide", func(j *schedule.PlanJob) { j.Shape = shapeOf(t, "0:6x3 20:40x3 40:6x3") }, "the section of the middle cannot be reached from that bar: 40x3 needs 120.0 mm² and there are 100.0 mm²", "100 mm² spread to 33.3 mm at 3 mm"},
		{"too thick", func(j *schedule.PlanJob) {
			j.Bar, j.Length, j.Shape = unit.Size{Shape: unit.Rectangular, Thick: 20, Width: 4}, 0, shapeOf(t, "0:8x8 40:8x8")
		}, "no hammer makes it thicker", "a zone grows in width alone"},
		{"no limit", func(j *schedule.PlanJob) { j.Alloy = "pewter" }, "needs no anneal", "pewter softens by itself"},
		{"a limit that is none", func(j *schedule.PlanJob) { j.Limit = "none" }, `"none" is not a limit`, "a school or a reduction"},
		{"a tight bend", func(j *schedule.PlanJob) { j.Bend = 0.001 }, "of the limit even if it is soft", "ln 2 at the skin, strain 0.80 of 0.69"},
		{"a temper nobody knows", func(j *schedule.PlanJob) { j.Temper = "rubbery" }, "is no temper", "four are known"},
		{"no ageing", func(j *schedule.PlanJob) { j.Alloy, j.Temper = "copper", schedule.AgeHardened }, "nothing is published of ageing", "copper does not age"},
		{"a solder that melts last", func(j *schedule.PlanJob) { j.Joints = []heat.Joint{{Name: "rim", Solidus: 900}} }, "sterling silver starts to at", "the piece goes first"},
		{"a limit below one reading", func(j *schedule.PlanJob) { j.Limit, j.Bend = "0.5%", 0 }, "the next size that a calliper shows", "0.1 mm of 10 takes more"},
		{"no bar", func(j *schedule.PlanJob) { j.Bar = unit.Size{Shape: unit.Sheet, Thick: 1} }, "is no bar", "a sheet has no width"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			job := flared(t)
			c.change(&job)
			_, err := schedule.PlanIn(nil, job, schedule.PlanKnown{})
			require.ErrorIs(t, err, schedule.ErrNoPlan)
			require.ErrorContains(t, err, c.says, c.reason)
		})
	}
	_, err := schedule.PlanIn(nil, schedule.PlanJob{Alloy: "unobtainium"}, schedule.PlanKnown{})
	require.ErrorAs(t, err, new(*alloys.UnknownError))
}

// Whatever is planned can be followed, or there is a reason why not.
func TestPlansCanBeFollowed(t *testing.T) {
	tried, made := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		tried++
		tenth := func(lo, hi int, name string) unit.Millimetre {
			return unit.Millimetre(rapid.IntRange(lo*10, hi*10).Draw(t, name)) / 10
		}
		n := rapid.IntRange(2, 4).Draw(t, "stations")
		shape := stock.Shape{}
		for i := range n {
			shape.Stations = append(shape.Stations, stock.Station{At: unit.Millimetre(30 * i),
				Section: stock.Section{Kind: stock.Rectangular, Width: tenth(2, 14, "width"), Thick: tenth(1, 7, "thick")}})
		}
		job := schedule.PlanJob{Alloy: rapid.SampledFrom([]string{"AG925", "C26000", "AG800"}).Draw(t, "alloy"), Cast: rapid.Bool().Draw(t, "cast"),
			Bar:   unit.Size{Shape: unit.Rectangular, Thick: tenth(5, 14, "bar"), Width: tenth(5, 14, "bar")},
			Shape: shape, Stamp: rapid.Bool().Draw(t, "stamp"), Temper: rapid.SampledFrom(append(schedule.PlanTempers(), "")).Draw(t, "temper"),
			Limit: rapid.SampledFrom([]string{"", "30% area", "20%"}).Draw(t, "limit")}
		if rapid.Bool().Draw(t, "bent") {
			job.Bend = 30
		}
		p, err := schedule.PlanIn(nil, job, schedule.PlanKnown{})
		if err != nil {
			require.ErrorIs(t, err, schedule.ErrNoPlan)
			return
		}
		made++
		for name, z := range follow(t, p) {
			i := slices.IndexFunc(p.Zones, func(z schedule.PlanZone) bool { return z.Name == name })
			require.InDelta(t, float64(p.Zones[i].Least), float64(area(z.section)), 0.1*float64(p.Zones[i].Section.Width)+0.05, "%s is finished", name)
		}
	})
	require.Greater(t, 10*made, tried, "many of these have a plan")
}

func TestPlanIsKept(t *testing.T) {
	job := flared(t)
	job.Joints = []heat.Joint{{Name: "rim", Solder: "hard", Solidus: 745}}
	p := planOf(t, job)
	text, err := json.Marshal(p)
	require.NoError(t, err)
	var back schedule.Plan
	require.NoError(t, json.Unmarshal(text, &back))
	require.Equal(t, p, back)
	require.Contains(t, string(text), `"stop_at":"7.5x7.5 mm"`)
	require.ErrorContains(t, json.Unmarshal([]byte(`{"v":9}`), &back), "form 9")
}

func TestGuard(t *testing.T) {
	p := planOf(t, flared(t))
	cases := []struct {
		zone   string
		side   unit.Millimetre
		stop   bool
		says   string
		reason string
	}{
		{"middle", 7.6, false, "", "57.8 of 54 mm²: 7 % to go"},
		{"middle", 7.5, true, "stop drawing the middle, work the ends", "56.25 mm² is within 5 %"},
		{"middle", 7.3, true, "the middle is too thin", "53.3 mm² does not make 18x3"},
		{schedule.Whole, 7.5, true, "stop drawing the middle", "drawn as a whole, the middle decides"},
		{"tip A", 4.3, true, "spread or planish it", "18.5 of 18 mm²"},
		{"tip A", 5, false, "", "25 mm²"},
		{"handle", 1, false, "", "no such zone"},
	}
	for _, c := range cases {
		stop, words := schedule.Guard(p, c.zone, unit.Size{Shape: unit.Rectangular, Thick: c.side, Width: c.side})
		require.Equal(t, c.stop, stop, c.reason)
		require.Contains(t, words, c.says, c.reason)
	}
	stop, _ := schedule.Guard(p, "middle", unit.Size{Shape: unit.Sheet, Thick: 1})
	require.False(t, stop, "a sheet has no area")
}

func BenchmarkPlan(b *testing.B) {
	job := flared(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := schedule.PlanIn(nil, job, schedule.PlanKnown{}); err != nil {
			b.Fatal(err)
		}
	}
}

// Pieces are planned one by one, so that time grows with their number.
func BenchmarkPlans(b *testing.B) {
	for _, pieces := range []int{10, 100, 1000} {
		b.Run(fmt.Sprint(pieces), func(b *testing.B) {
			jobs := make([]schedule.PlanJob, pieces)
			for i := range jobs {
				jobs[i] = flared(b)
				jobs[i].Length += unit.Millimetre(i % 7)
			}
			for b.Loop() {
				for _, job := range jobs {
					if _, err := schedule.PlanIn(nil, job, schedule.PlanKnown{}); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
