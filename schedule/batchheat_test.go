package schedule

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
)

// annealsOf is a batch of pieces with nothing but anneals before them. A window that
// ends at 0 is none.
func annealsOf(atOnce int, chains ...[]heatWindow) BatchJob {
	job := BatchJob{AtOnce: atOnce}
	for i, chain := range chains {
		p := BatchPiece{Name: fmt.Sprint("piece ", i+1)}
		p.Plan.Job.Alloy = "one"
		if i%2 == 1 {
			p.Plan.Job.Alloy = "other"
		}
		for _, w := range chain {
			p.Plan.Steps = append(p.Plan.Steps, PlanStep{Act: DoAnneal, Low: w.low, High: w.high})
		}
		job.Pieces = append(job.Pieces, p)
	}
	return job
}

// drawBatch is up to so many pieces with up to so many anneals, some without a window.
func drawBatch(t *rapid.T, pieces, anneals int) BatchJob {
	kinds := rapid.IntRange(1, 5).Draw(t, "kinds")
	var windows []heatWindow
	for range kinds {
		low := unit.Celsius(100 * rapid.IntRange(2, 8).Draw(t, "low"))
		w := heatWindow{low, low + unit.Celsius(50*rapid.IntRange(0, 6).Draw(t, "wide"))}
		if rapid.IntRange(0, 5).Draw(t, "published") == 0 {
			w = heatWindow{}
		}
		windows = append(windows, w)
	}
	var chains [][]heatWindow
	for range rapid.IntRange(1, pieces).Draw(t, "pieces") {
		chains = append(chains, rapid.SliceOfN(rapid.SampledFrom(windows), 0, anneals).Draw(t, "chain"))
	}
	return annealsOf(rapid.IntRange(1, 4).Draw(t, "at once"), chains...)
}

// mayShare is whether a set of anneals have a heat in common, told plainly: some
// temperature that is in every window, or none published and one alloy.
func mayShare(job BatchJob, pieces, steps []int) bool {
	low, high := unit.Celsius(0), unit.Celsius(1e6)
	bare := 0
	for i, p := range pieces {
		s := job.Pieces[p].Plan.Steps[steps[i]]
		if s.High == 0 {
			bare++
		}
		low, high = max(low, s.Low), min(high, s.High)
		if bare > 0 && job.Pieces[p].Plan.Job.Alloy != job.Pieces[pieces[0]].Plan.Job.Alloy {
			return false
		}
	}
	return bare == len(pieces) || bare == 0 && low <= high
}

// bruteHeats is the fewest heats by trying every set of pieces for every heat, state
// by state from the end.
func bruteHeats(job BatchJob) int {
	known := map[string]int{}
	var from func(at []int) int
	from = func(at []int) int {
		key := fmt.Sprint(at)
		if n, ok := known[key]; ok {
			return n
		}
		best := -1
		for set := 1; set < 1<<len(at); set++ {
			var pieces, steps []int
			next := slices.Clone(at)
			for p := range at {
				if set&(1<<p) != 0 {
					pieces, steps = append(pieces, p), append(steps, at[p])
					next[p]++
				}
			}
			here := slices.ContainsFunc(pieces, func(p int) bool { return at[p] == len(job.Pieces[p].Plan.Steps) })
			if here || len(pieces) > job.AtOnce || !mayShare(job, pieces, steps) {
				continue
			}
			if n := 1 + from(next); best < 0 || n < best {
				best = n
			}
		}
		known[key] = max(0, best)
		return known[key]
	}
	return from(make([]int, len(job.Pieces)))
}

// smithHeats is how many heats a smith takes who heats the piece with most anneals
// left, and with it what fits, in the order of the list.
func smithHeats(job BatchJob) (heats int) {
	at := make([]int, len(job.Pieces))
	left := func(p int) int { return len(job.Pieces[p].Plan.Steps) - at[p] }
	for {
		most := 0
		for p := range at {
			if left(p) > left(most) {
				most = p
			}
		}
		if left(most) == 0 {
			return heats
		}
		pieces, steps := []int{most}, []int{at[most]}
		for p := range at {
			if p == most || left(p) == 0 || len(pieces) == job.AtOnce {
				continue
			}
			if with, then := append(slices.Clone(pieces), p), append(slices.Clone(steps), at[p]); mayShare(job, with, then) {
				pieces, steps = with, then
			}
		}
		for _, p := range pieces {
			at[p]++
		}
		heats++
	}
}

// heatsHold requires of heats that every anneal is in one, once and in order, and that
// those in one may share it; it gives their number.
func heatsHold(t require.TestingT, job BatchJob, heats [][]int) int {
	at := make([]int, len(job.Pieces))
	for _, heat := range heats {
		require.NotEmpty(t, heat)
		require.LessOrEqual(t, len(heat), job.AtOnce)
		var steps []int
		for i, p := range heat {
			require.NotContains(t, heat[:i], p, "a piece is in a heat once")
			steps = append(steps, at[p])
			at[p]++
			require.LessOrEqual(t, at[p], len(job.Pieces[p].Plan.Steps))
		}
		require.True(t, mayShare(job, heat, steps), "%v", heat)
	}
	for p, n := range at {
		require.Len(t, job.Pieces[p].Plan.Steps, n, "every anneal is in a heat")
	}
	return len(heats)
}

// Small batches: as few heats as trying everything finds, also where the search has no
// greedy order to begin with.
func TestHeatSearchIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawBatch(t, 4, 3)
		if rapid.Bool().Draw(t, "five") {
			job = drawBatch(t, 5, 3)
		}
		fewest := bruteHeats(job)
		s := newHeatSearch(job)
		require.Equal(t, fewest, heatsHold(t, job, s.run()))
		require.True(t, s.fewest, "small batches are searched to the end")
		require.Equal(t, fewest, s.least)

		bare := newHeatSearch(job)
		bare.best = 100
		bare.search(0)
		require.Equal(t, fewest, bare.best)
		require.Equal(t, fewest, heatsHold(t, job, bare.named()))
		require.NotContains(t, bare.blocked, 1, "what was barred is free again")
	})
}

// windows are those of a class, one after the other.
func (s *heatSearch) windows(class int) (all []heatWindow) {
	for c := class; c != done; c = s.classes[c].next {
		all = append(all, s.classes[c].head)
	}
	return all
}

// A class goes before those that it begins with, and before no other.
func TestShorterClasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newHeatSearch(drawBatch(t, 6, 5))
		for i, c := range s.classes {
			whole, want := s.windows(i), done
			for j, o := range s.classes {
				if o.left < c.left && slices.Equal(s.windows(j), whole[:o.left]) && (want == done || o.left > s.classes[want].left) {
					want = j
				}
			}
			require.Equal(t, want, c.shorter)
		}
	})
}

// Of any size: never more heats than the smith who takes what fits, never fewer than
// the bound, and what is found can be done.
func TestHeatSearchIsNoWorseThanGreedy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawBatch(t, 14, 6)
		s := newHeatSearch(job)
		s.budget = rapid.SampledFrom([]int{1, 1000, 100_000}).Draw(t, "budget")
		bound := s.bound()
		got := heatsHold(t, job, s.run())
		require.LessOrEqual(t, got, smithHeats(job))
		require.LessOrEqual(t, bound, s.least)
		require.LessOrEqual(t, s.least, got)
		if s.fewest {
			require.Equal(t, got, s.least)
		}
	})
}

// The bound never says more than trying everything needs.
func TestHeatBoundHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawBatch(t, 4, 3)
		require.LessOrEqual(t, newHeatSearch(job).bound(), bruteHeats(job))
	})
}

func TestFewestHeats(t *testing.T) {
	hot, cool, both := heatWindow{600, 700}, heatWindow{400, 500}, heatWindow{450, 650}
	warm, mid, none := heatWindow{350, 350}, heatWindow{550, 550}, heatWindow{}
	cases := []struct {
		name   string
		job    BatchJob
		heats  int
		reason string
	}{
		{"nothing left", annealsOf(3, nil, nil), 0, "no piece has an anneal before it"},
		{"alike", annealsOf(3, []heatWindow{hot, hot}, []heatWindow{hot, hot}, []heatWindow{hot, hot}), 2, "all three in each"},
		{"four alike in threes", annealsOf(3, []heatWindow{hot, hot}, []heatWindow{hot, hot}, []heatWindow{hot, hot}, []heatWindow{hot, hot}), 3, "8 anneals, 3 in a heat"},
		{"apart", annealsOf(3, []heatWindow{hot}, []heatWindow{cool}), 2, "no temperature in common"},
		{"one between", annealsOf(3, []heatWindow{hot}, []heatWindow{both}, []heatWindow{cool}), 2, "the middle one goes with either, and not all with all"},
		{"ends touch", annealsOf(2, []heatWindow{{400, 500}}, []heatWindow{{500, 600}}), 1, "500 °C does for both"},
		{"crossed", annealsOf(2, []heatWindow{hot, cool}, []heatWindow{cool, hot}), 3, "one of them must wait for the other"},
		{"none published, two alloys", annealsOf(2, []heatWindow{none}, []heatWindow{none}), 2, "nobody knows what they have in common"},
		{"none published, one alloy", annealsOf(2, []heatWindow{none}, nil, []heatWindow{none}), 1, "one metal has one heat"},
		{"none published and one that is", annealsOf(2, []heatWindow{none}, nil, []heatWindow{hot}), 2, "one of them is not known"},
		{"the list misleads", annealsOf(2, []heatWindow{hot, hot, hot}, []heatWindow{hot}, []heatWindow{hot}, []heatWindow{hot}, []heatWindow{hot, hot, hot}), 5,
			"9 anneals in pairs; who fills up by the list keeps two long ones for the end"},
		{"longest first misleads", annealsOf(6, []heatWindow{warm, hot, warm}, []heatWindow{hot, warm, warm, hot}, []heatWindow{warm, mid}, []heatWindow{mid, warm, warm}), 6,
			"both greedy orders take 7: so the search is needed"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := newHeatSearch(c.job)
			require.Equal(t, c.heats, heatsHold(t, c.job, s.run()), c.reason)
			require.True(t, s.fewest)
		})
	}
	s := newHeatSearch(cases[len(cases)-1].job)
	require.Len(t, s.greedy(false), 7)
	require.Len(t, s.greedy(true), 7)
}
