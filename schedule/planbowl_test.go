package schedule_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/stock"
)

// halfBall is a bowl of 60 mm, half as high, of a disc of 84.85 mm by area.
func halfBall(limit string) schedule.PlanJob {
	return schedule.PlanJob{Alloy: "AG925", Bar: unit.Size{Shape: unit.Sheet, Thick: 0.8, Diameter: 85},
		Bowl: stock.Bowl{Form: stock.Hemispherical, Diameter: 60, Height: 30}, Limit: limit}
}

// The edge comes in from a ring of 85 mm to one of 60: (2/√3) ln(85/60) = 0.402, for
// which a limit of 20 % of thickness, 0.2577, wants one anneal.
func TestPlanOfABowl(t *testing.T) {
	p, err := schedule.PlanIn(nil, halfBall("20%"), schedule.PlanKnown{})
	require.NoError(t, err)
	require.Equal(t, 1, p.Anneals)
	require.Len(t, p.Steps, 3)
	total := 0.0
	for _, s := range []schedule.PlanStep{p.Steps[0], p.Steps[2]} {
		require.Equal(t, coldwork.Raise, s.Process)
		require.LessOrEqual(t, s.LimitSpent, 1.0)
		total += s.LimitSpent * float64(p.Limit.Strain)
	}
	require.InDelta(t, 2/math.Sqrt(3)*math.Log(85./60), total, 1e-9)
	require.EqualValues(t, 60, p.Steps[2].StopAt.Diameter)
	require.Equal(t, "ring 60", p.Steps[2].Stop())
	require.InDelta(t, 47.0, float64(p.Mass.Bar), 0.05, "π/4 85² x 0.8 mm³ at 10.36 g/cm³")
	require.InDelta(t, 46.9, float64(p.Mass.Finished), 0.05)

	wide, err := schedule.PlanIn(nil, halfBall(""), schedule.PlanKnown{})
	require.NoError(t, err)
	require.Zero(t, wide.Anneals, "0.402 of 0.690")
}

func TestPlanOfABowlRefuses(t *testing.T) {
	for says, change := range map[string]func(*schedule.PlanJob){
		"the disc is 4.9 mm short": func(j *schedule.PlanJob) { j.Bar.Diameter = 80 },
		"inside the mouth":         func(j *schedule.PlanJob) { j.Bar.Diameter = 50 },
		"is no disc":               func(j *schedule.PlanJob) { j.Bar = unit.Size{Shape: unit.Rectangular, Thick: 8, Width: 8} },
		"neither bent nor twisted": func(j *schedule.PlanJob) { j.Bend = 30 },
		"no disc is":               func(j *schedule.PlanJob) { j.Bar.Diameter = unit.Millimetre(math.Inf(1)) },
		"hemispherical or conical": func(j *schedule.PlanJob) { j.Bowl.Form = "square" },
		"does not last from":       func(j *schedule.PlanJob) { j.Limit = "1%" },
		"softens by itself":        func(j *schedule.PlanJob) { j.Alloy = "lead-free pewter" },
	} {
		job := halfBall("")
		change(&job)
		_, err := schedule.PlanIn(nil, job, schedule.PlanKnown{})
		require.ErrorIs(t, err, schedule.ErrNoPlan, says)
		require.ErrorContains(t, err, says)
	}
}

func TestFollowingABowl(t *testing.T) {
	for _, sunk := range []bool{false, true} {
		job := halfBall("20%")
		job.Sunk, job.Temper = sunk, schedule.HardTemper
		begin := wrought(job.Alloy)
		begin.Reading, begin.Limit = vessel(job.Bar.Thick, job.Bar.Diameter), job.Limit
		h := start(begin)
		s := h.state()
		p, err := s.PlanOn(job, schedule.PlanKnown{})
		require.NoError(t, err)
		h = h.then(schedule.Planned{Plan: p})
		half := h.then(schedule.Pass{Process: p.Steps[0].Process, Count: 1, Reading: ring(p.Steps[0].StopAt.Diameter + 6)}).following(t)
		require.Zero(t, half.At)
		require.InDelta(t, 6, float64(half.ToGo[0].Thick), 1e-9)
		over := h.then(schedule.Pass{Process: p.Steps[0].Process, Count: 1, Reading: ring(64)}).following(t)
		require.True(t, over.Again, "past the stop by more than the slack: %s", over.Text())
		for i, step := range p.Steps {
			f := h.following(t)
			require.Equal(t, i, f.At, f.Text())
			require.False(t, f.Again, f.Changed)
			h = h.does(p.Job, step)
		}
		f := h.following(t)
		require.Equal(t, len(p.Steps), f.At)
		require.Contains(t, f.Text(), "the shape is reached")

		kept, err := json.Marshal(p)
		require.NoError(t, err)
		var back schedule.Plan
		require.NoError(t, json.Unmarshal(kept, &back))
		require.Equal(t, p, back)
	}
}

// A disc that was worked is not weighed again: its edge says nothing of it.
func TestPlanOfAWorkedBowl(t *testing.T) {
	begin := wrought("AG925")
	begin.Reading = vessel(0.8, 85)
	s := start(begin).then(course(coldwork.Raise, ring(80))).state()
	p, err := s.PlanOn(schedule.PlanJob{Bowl: halfBall("").Bowl}, schedule.PlanKnown{})
	require.NoError(t, err)
	require.Zero(t, p.Mass)
	require.InDelta(t, 2/math.Sqrt(3)*math.Log(85./60)/float64(p.Limit.Strain), p.Steps[0].LimitSpent, 1e-9)
}

// Ten turns over 150 mm of a 5 mm square bar: 2π 10/150 x 3.536 mm/√3 = 0.855, which
// two halves with an anneal before each keep under 0.690.
func TestPlanOfATwist(t *testing.T) {
	job := flared(t)
	job.Shape, job.Stamp, job.Turns, job.Over = shapeOf(t, "0:5x5 200:5x5"), false, 10, 150
	p := planOfTwist(t, job)
	var shares []float64
	for i, s := range p.Steps {
		if s.Turns > 0 {
			require.Equal(t, schedule.DoAnneal, p.Steps[i-1].Act, "twisted soft")
			require.InDelta(t, 5, s.Turns, 1e-9)
			shares = append(shares, s.LimitSpent*float64(p.Limit.Strain))
		}
	}
	require.Len(t, shares, 2)
	require.InDelta(t, 2*math.Pi*5/150*math.Hypot(5, 5)/2/math.Sqrt(3), shares[0], 1e-9)
	job.Turns = 500
	_, err := schedule.PlanIn(nil, job, schedule.PlanKnown{})
	require.ErrorContains(t, err, "twist it less")
	job.Turns, job.Stamp = 2, true
	_, err = schedule.PlanIn(nil, job, schedule.PlanKnown{})
	require.ErrorContains(t, err, "what is stamped flat is not twisted")
	job.Stamp, job.Over = false, 0
	_, err = schedule.PlanIn(nil, job, schedule.PlanKnown{})
	require.ErrorContains(t, err, "nothing is twisted")
}

func planOfTwist(t *testing.T, job schedule.PlanJob) schedule.Plan {
	p, err := schedule.PlanIn(nil, job, schedule.PlanKnown{})
	require.NoError(t, err)
	return p
}
