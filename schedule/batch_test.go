package schedule_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// spoon is a sterling blank from a cast bar, bowl a round-bottomed strip of copper.
func spoon(t require.TestingT) schedule.PlanJob {
	return schedule.PlanJob{Alloy: "AG925", Cast: true, Bar: unit.Size{Shape: unit.Rectangular, Thick: 8, Width: 8}, Length: 60,
		Shape: shapeOf(t, "0:4x3 80:6x3 120:20x1.5 150:8x1.5"), Stamp: true}
}

func bowl(t require.TestingT) schedule.PlanJob {
	return schedule.PlanJob{Alloy: "C11000", Bar: unit.Size{Shape: unit.Rectangular, Thick: 12, Width: 12}, Shape: shapeOf(t, "0:30x2 60:30x2")}
}

func batchPlan(t require.TestingT, job schedule.PlanJob) schedule.Plan {
	p, err := schedule.PlanIn(nil, job, schedule.PlanKnown{})
	require.NoError(t, err)
	return p
}

// alike are n pieces of one plan.
func alike(name string, p schedule.Plan, n int) (all []schedule.BatchPiece) {
	for i := range n {
		all = append(all, schedule.BatchPiece{Name: fmt.Sprintf("%s-%d", name, i+1), Plan: p})
	}
	return all
}

// followBatch does what a batch says and requires that each piece is brought through
// the steps of its plan one by one, none left out and none before another, whatever
// the others do: so it is where its own plan has it, below the limit that it has there.
func followBatch(t require.TestingT, job schedule.BatchJob, b schedule.Batch) {
	at := make([]int, len(job.Pieces))
	for i, p := range job.Pieces {
		at[i] = p.From
	}
	heats, joints, torch := 0, 0, time.Duration(0)
	for i, r := range b.Rounds {
		require.NotZero(t, len(r.Work)+len(r.Heat.Pieces), "round %d has something to do", i+1)
		for _, w := range r.Work {
			require.Equal(t, at[w.Piece], w.From)
			require.Greater(t, w.To, w.From)
			for _, s := range job.Pieces[w.Piece].Plan.Steps[w.From:w.To] {
				require.NotContains(t, []schedule.PlanAct{schedule.DoAnneal, schedule.DoSolder}, s.Act)
				require.LessOrEqual(t, s.LimitSpent, 1+1e-9)
			}
			at[w.Piece] = w.To
		}
		if len(r.Heat.Pieces) > 0 {
			heats++
			heatHolds(t, job, r.Heat, at)
			torch += r.Heat.Torch
		}
		if r.Heat.Act == schedule.DoSolder {
			joints++
		}
	}
	for i, p := range job.Pieces {
		require.Len(t, p.Plan.Steps, at[i], "%s is finished", p.Name)
	}
	require.Equal(t, heats, b.Heats)
	require.Equal(t, joints, b.Joints)
	require.Equal(t, torch, b.Torch)
}

// heatHolds requires that pieces may share a heat, and brings them past it.
func heatHolds(t require.TestingT, job schedule.BatchJob, h schedule.BatchHeat, at []int) {
	atOnce := job.AtOnce
	if atOnce == 0 {
		atOnce = schedule.BatchAtOnce
	}
	require.LessOrEqual(t, len(h.Pieces), atOnce)
	require.LessOrEqual(t, h.Low, h.High)
	for i, p := range h.Pieces {
		require.NotContains(t, h.Pieces[:i], p, "a piece is in a heat once")
		require.Equal(t, at[p], h.Steps[i], "it is the step that is next")
		at[p]++
		s := job.Pieces[p].Plan.Steps[h.Steps[i]]
		require.Equal(t, s.Act, h.Act)
		if h.Act == schedule.DoSolder {
			require.Len(t, h.Pieces, 1, "a joint has its own heat")
			continue
		}
		require.GreaterOrEqual(t, h.Low, s.Low)
		require.LessOrEqual(t, h.High, s.High)
		if s.High == 0 {
			require.Equal(t, job.Pieces[h.Pieces[0]].Plan.Job.Alloy, job.Pieces[p].Plan.Job.Alloy)
		}
	}
}

// daysHold requires that no day is longer than it may be, but for a single step or
// heat that is.
func daysHold(t require.TestingT, job schedule.BatchJob, b schedule.Batch) {
	used, things, day := time.Duration(0), 0, 1
	for _, r := range b.Rounds {
		if r.Day != day {
			require.Equal(t, day+1, r.Day)
			used, things, day = 0, 0, r.Day
		}
		for _, w := range r.Work {
			things += w.To - w.From
		}
		if len(r.Heat.Pieces) > 0 {
			things++
		}
		used += r.Takes
		if job.Day > 0 && things > 1 {
			require.LessOrEqual(t, used, job.Day, "day %d", day)
		}
	}
	require.Equal(t, day, b.Days)
	if job.Day == 0 {
		require.Equal(t, 1, b.Days)
	}
}

// Twelve pieces, eight of sterling and four of copper, from plans of their own. Where
// each is heated alone the torch is lit for every anneal of every piece.
func TestBatchOfTwelve(t *testing.T) {
	silver, copper := batchPlan(t, spoon(t)), batchPlan(t, bowl(t))
	job := schedule.BatchJob{Pieces: append(alike("spoon", silver, 8), alike("bowl", copper, 4)...), AtOnce: 6, Day: 4 * time.Hour}
	b, err := schedule.BatchOf(job)
	require.NoError(t, err)
	followBatch(t, job, b)
	daysHold(t, job, b)
	require.True(t, b.Fewest)
	require.Equal(t, b.Least, b.Heats)
	require.Equal(t, 8*silver.Anneals+4*copper.Anneals, b.Alone)
	require.GreaterOrEqual(t, b.Heats, (b.Alone+5)/6, "no more than six in a heat")
	require.GreaterOrEqual(t, b.Heats, max(silver.Anneals, copper.Anneals))
	require.LessOrEqual(t, b.Heats, 2*silver.Anneals+copper.Anneals, "eight spoons in two lots, the bowls in one")
	require.Greater(t, b.Days, 1)

	var lit float64
	for _, p := range job.Pieces {
		for _, s := range p.Plan.Steps {
			require.Equal(t, s.Act == schedule.DoAnneal, s.Flame > 0, "the torch is lit for a heat alone")
			require.LessOrEqual(t, s.Flame, s.Minutes)
			lit += s.Flame
		}
	}
	require.InDelta(t, lit, b.Torch.Minutes(), 0.01, "a shared lighting burns no less for a piece")
}

// batchSteps is a plan by its acts, one letter each: p a pass of 10 min, a an anneal
// of 3 min with the torch lit for 2, s a joint of 4 min, 3 lit.
func batchSteps(alloy, acts string, low, high unit.Celsius) (p schedule.Plan) {
	p.Job.Alloy = alloy
	for i, c := range acts {
		s := schedule.PlanStep{Act: schedule.DoPass, Minutes: 10, LimitSpent: 0.5 + float64(i%3)/10}
		switch c {
		case 'a':
			s = schedule.PlanStep{Act: schedule.DoAnneal, Minutes: 3, Flame: 2, Low: low, High: high}
		case 's':
			s = schedule.PlanStep{Act: schedule.DoSolder, Minutes: 4, Flame: 3, Solidus: 700}
		}
		p.Steps = append(p.Steps, s)
	}
	return p
}

func TestBatchInRounds(t *testing.T) {
	cases := []struct {
		name   string
		pieces []string // acts of each
		atOnce int
		want   string
		torch  int
		total  int
		reason string
	}{
		{"one", []string{"papap"}, 0, "1p | 1a | 1p | 1a | 1p", 4, 36, "a piece alone waits for itself: 3 passes and 2 heats of 3 min"},
		{"two alike", []string{"pap", "pap"}, 0, "1p 2p | 12a | 1p 2p", 4, 44, "the first cools while the second is in the flame"},
		{"one at a time", []string{"pap", "pap"}, 1, "1p | 1a | 2p | 2a | 1p 2p", 4, 44, "the first cools while the second is hammered"},
		{"nearest its limit first", []string{"pa", "ppa"}, 0, "2pp 1p | 12a", 4, 35, "0.6 of the limit against 0.5; the last heat is waited for"},
		{"a joint in its place", []string{"psap", "pap"}, 0, "1p | 1s | 2p | 12a | 1p 2p", 7, 47, "the joint comes before the anneal it is planned before"},
		{"joints at the end", []string{"pas", "pas"}, 0, "1p 2p | 12a | 1s | 2s", 10, 31, "never shared; each piece is cool when its turn comes"},
		{"nothing left", []string{"", ""}, 0, "", 0, 0, "both are finished"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			job := schedule.BatchJob{AtOnce: c.atOnce}
			for i, acts := range c.pieces {
				job.Pieces = append(job.Pieces, schedule.BatchPiece{Name: fmt.Sprint(i + 1), Plan: batchSteps("AG925", acts, 593, 649)})
			}
			b, err := schedule.BatchOf(job)
			require.NoError(t, err)
			followBatch(t, job, b)
			require.Equal(t, c.want, roundsText(job, b), c.reason)
			require.InDelta(t, c.torch, b.Torch.Minutes(), 1e-9)
			require.InDelta(t, c.total, b.Total.Minutes(), 1e-9, c.reason)
		})
	}
}

// roundsText is a batch in short: "1p 2p | 12a".
func roundsText(job schedule.BatchJob, b schedule.Batch) string {
	letter := func(s schedule.PlanStep) string { return string(s.Act)[:1] }
	var all []string
	for _, r := range b.Rounds {
		var work []string
		for _, w := range r.Work {
			text := job.Pieces[w.Piece].Name
			for _, s := range job.Pieces[w.Piece].Plan.Steps[w.From:w.To] {
				text += letter(s)
			}
			work = append(work, text)
		}
		if len(work) > 0 {
			all = append(all, strings.Join(work, " "))
		}
		if len(r.Heat.Pieces) > 0 {
			text := ""
			for _, p := range r.Heat.Pieces {
				text += job.Pieces[p].Name
			}
			all = append(all, text+string(r.Heat.Act)[:1])
		}
	}
	return strings.Join(all, " | ")
}

// A day ends before what does not fit into it, and never in a heat.
func TestBatchInDays(t *testing.T) {
	p := batchSteps("AG925", "papap", 593, 649)
	job := schedule.BatchJob{Pieces: []schedule.BatchPiece{{Name: "1", Plan: p}, {Name: "2", Plan: p}}, Day: 25 * time.Minute}
	b, err := schedule.BatchOf(job)
	require.NoError(t, err)
	followBatch(t, job, b)
	daysHold(t, job, b)
	var days []int
	for _, r := range b.Rounds {
		days = append(days, r.Day)
	}
	// 10+10 and then 5 min of heat; 20 and 5 again; 20
	require.Equal(t, []int{1, 2, 3}, days)
	require.Equal(t, 3, b.Days)

	job.Day = 12 * time.Minute // no heat of two after a pass
	b, err = schedule.BatchOf(job)
	require.NoError(t, err)
	followBatch(t, job, b)
	daysHold(t, job, b)
	require.Equal(t, "1p | 2p | 12a | 1p | 2p | 12a | 1p | 2p", roundsText(job, b))
	require.Equal(t, 8, b.Days, "a pass or a heat a day")
	require.NotContains(t, strings.Join(b.Notes, " "), "longer than the day")

	job.Day = 3 * time.Minute
	b, err = schedule.BatchOf(job)
	require.NoError(t, err)
	followBatch(t, job, b)
	daysHold(t, job, b)
	require.Contains(t, strings.Join(b.Notes, " "), "longer than the day")
}

func TestBatchRefuses(t *testing.T) {
	one := schedule.BatchPiece{Name: "spoon", Plan: batchSteps("AG925", "pap", 593, 649)}
	upside := schedule.BatchPiece{Name: "spoon", Plan: batchSteps("AG925", "pap", 649, 593)}
	past := one
	past.From = 4
	cases := []struct {
		name   string
		job    schedule.BatchJob
		says   string
		reason string
	}{
		{"none", schedule.BatchJob{}, "a batch needs a piece", "nothing to do"},
		{"none at once", schedule.BatchJob{Pieces: []schedule.BatchPiece{one}, AtOnce: -1}, "-1 pieces cannot share a heat", "a heat has a piece"},
		{"a day less than none", schedule.BatchJob{Pieces: []schedule.BatchPiece{one}, Day: -time.Hour}, "cannot be worked", "it has hours"},
		{"twice", schedule.BatchJob{Pieces: []schedule.BatchPiece{one, one}}, "spoon is in the batch twice", "a piece is in one place"},
		{"past its plan", schedule.BatchJob{Pieces: []schedule.BatchPiece{past}}, "3 steps and cannot be at step 5", "there is no such step"},
		{"no window", schedule.BatchJob{Pieces: []schedule.BatchPiece{upside}}, "step 2 of spoon is annealed at 649 to 593 °C", "its ends are swapped"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			_, err := schedule.BatchOf(c.job)
			require.ErrorContains(t, err, c.says, c.reason)
		})
	}
}

func TestBatchNotes(t *testing.T) {
	iron := schedule.BatchPiece{Name: "hook", Plan: batchSteps("STEEL", "pap", 593, 649)}
	silver := schedule.BatchPiece{Name: "spoon", Plan: batchSteps("AG925", "pap", 593, 649)}
	b, err := schedule.BatchOf(schedule.BatchJob{Pieces: []schedule.BatchPiece{iron, silver}})
	require.NoError(t, err)
	require.Contains(t, strings.Join(b.Notes, " "), "never the pickle")
	b, err = schedule.BatchOf(schedule.BatchJob{Pieces: []schedule.BatchPiece{silver}})
	require.NoError(t, err)
	require.NotContains(t, strings.Join(b.Notes, " "), "pickle: iron")
}

// A joint that was soldered lowers what the heats after it may be, and they share by
// that: a plan of a piece with one has its own windows.
func TestBatchAfterAJoint(t *testing.T) {
	job := flared(t)
	job.Joints, job.Temper = []heat.Joint{{Name: "rim", Solder: "hard", Solidus: 745}}, ""
	all := schedule.BatchJob{Pieces: alike("band", batchPlan(t, job), 3)}
	b, err := schedule.BatchOf(all)
	require.NoError(t, err)
	followBatch(t, all, b)
	require.Equal(t, 3, b.Joints, "each in its own heat")
	require.Equal(t, b.Joints+all.Pieces[0].Plan.Anneals, b.Heats)
}

func drawPiece(t *rapid.T, i int) schedule.BatchPiece {
	acts := rapid.StringMatching(`[pas]{0,8}`).Draw(t, "acts")
	low := unit.Celsius(100 * rapid.IntRange(3, 6).Draw(t, "low"))
	high := low + unit.Celsius(50*rapid.IntRange(0, 3).Draw(t, "wide"))
	if rapid.IntRange(0, 5).Draw(t, "published") == 0 {
		low, high = 0, 0
	}
	p := schedule.BatchPiece{Name: fmt.Sprint(i), Plan: batchSteps(rapid.SampledFrom([]string{"AG925", "C11000"}).Draw(t, "alloy"), acts, low, high)}
	p.From = rapid.IntRange(0, len(p.Plan.Steps)).Draw(t, "from")
	return p
}

// Whatever is planned together: every piece goes through its plan in order, days are
// kept, and the time is between what the hands need and what the pieces take one after
// the other.
func TestBatchesCanBeFollowed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := schedule.BatchJob{AtOnce: rapid.IntRange(0, 4).Draw(t, "at once"), Day: time.Duration(rapid.IntRange(0, 60).Draw(t, "day")) * time.Minute}
		busy, all := time.Duration(0), time.Duration(0)
		for i := range rapid.IntRange(1, 7).Draw(t, "pieces") {
			p := drawPiece(t, i)
			job.Pieces = append(job.Pieces, p)
			for _, s := range p.Plan.Steps[p.From:] {
				all += time.Duration(s.Minutes) * time.Minute
				if s.Flame > 0 {
					busy += time.Duration(s.Flame) * time.Minute
				} else {
					busy += time.Duration(s.Minutes) * time.Minute
				}
			}
		}
		b, err := schedule.BatchOf(job)
		require.NoError(t, err)
		followBatch(t, job, b)
		daysHold(t, job, b)
		require.GreaterOrEqual(t, b.Total, busy)
		require.LessOrEqual(t, b.Total, all)
		require.LessOrEqual(t, b.Heats, b.Alone)
	})
}

// The same job gives the same batch, in whatever order a map is walked.
func TestBatchIsTheSameAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := schedule.BatchJob{AtOnce: 2}
		for i := range rapid.IntRange(1, 7).Draw(t, "pieces") {
			job.Pieces = append(job.Pieces, drawPiece(t, i))
		}
		one, err := schedule.BatchOf(job)
		require.NoError(t, err)
		other, err := schedule.BatchOf(job)
		require.NoError(t, err)
		require.Equal(t, one, other)
	})
}

// A mixed class: seven plans of four metals, so that windows overlap in part.
func mixedBatch(t require.TestingT, pieces int) schedule.BatchJob {
	var plans []schedule.Plan
	for i, alloy := range []string{"AG925", "C11000", "C26000", "C51000", "AG800", "AG999", "C26000"} {
		job := bowl(t)
		job.Alloy, job.Limit = alloy, "40%"
		if i%2 == 0 {
			job.Bar.Thick, job.Bar.Width = 10, 10
		}
		plans = append(plans, batchPlan(t, job))
	}
	var job schedule.BatchJob
	for i := range pieces {
		p := plans[i%len(plans)]
		job.Pieces = append(job.Pieces, schedule.BatchPiece{Name: fmt.Sprint(i + 1), Plan: p, From: i * 5 % 7 % len(p.Steps)})
	}
	return job
}

func TestMixedBatch(t *testing.T) {
	job := mixedBatch(t, 12)
	b, err := schedule.BatchOf(job)
	require.NoError(t, err)
	followBatch(t, job, b)
	require.True(t, b.Fewest, "twelve pieces are searched to the end")
	require.Less(t, b.Heats, b.Alone)
	shared := slices.IndexFunc(b.Rounds, func(r schedule.BatchRound) bool {
		return slices.ContainsFunc(r.Heat.Pieces, func(p int) bool {
			return job.Pieces[p].Plan.Job.Alloy != job.Pieces[r.Heat.Pieces[0]].Plan.Job.Alloy
		})
	})
	require.GreaterOrEqual(t, shared, 0, "some heat has two metals in it")
}

func benchmarkBatch(b *testing.B, pieces int) {
	job := mixedBatch(b, pieces)
	heats := 0
	for b.Loop() {
		out, err := schedule.BatchOf(job)
		if err != nil {
			b.Fatal(err)
		}
		heats = out.Heats
	}
	b.ReportMetric(float64(heats), "heats")
}

func BenchmarkBatch10(b *testing.B)   { benchmarkBatch(b, 10) }
func BenchmarkBatch100(b *testing.B)  { benchmarkBatch(b, 100) }
func BenchmarkBatch1000(b *testing.B) { benchmarkBatch(b, 1000) }
