package schedule

import (
	"cmp"
	"slices"

	"dullred/alloys/unit"
)

// heatWindow is at what temperatures an anneal may be done. One for which nothing is
// published has a place below all temperatures that is that of its alloy.
type heatWindow struct{ low, high unit.Celsius }

// belowAll is colder than any window.
const belowAll unit.Celsius = -1000

// with is what two windows have in common; false for nothing.
func (w heatWindow) with(o heatWindow) (heatWindow, bool) {
	both := heatWindow{max(w.low, o.low), min(w.high, o.high)}
	return both, both.low <= both.high
}

// chains are the windows of the anneals that each piece has before it.
func (job BatchJob) chains() [][]heatWindow {
	places := map[string]unit.Celsius{}
	all := make([][]heatWindow, len(job.Pieces))
	for i, p := range job.Pieces {
		for _, s := range p.Plan.Steps[p.From:] {
			if s.Act != DoAnneal {
				continue
			}
			w := heatWindow{s.Low, s.High}
			if s.High == 0 {
				if places[p.Plan.Job.Alloy] == 0 {
					places[p.Plan.Job.Alloy] = belowAll - unit.Celsius(len(places))
				}
				w = heatWindow{places[p.Plan.Job.Alloy], places[p.Plan.Job.Alloy]}
			}
			all[i] = append(all[i], w)
		}
	}
	return all
}

// heatRange is a range of temperatures with the place in the order of ranges of the
// last one that ends below it; done for none.
type heatRange struct {
	heatWindow
	before int
}

// mostRanges are looked at for a bound; beyond, only those that share nothing.
const mostRanges = 120

// rangesOf are the ranges from the low end of a window to the high end of one, by
// their high ends.
func rangesOf(chains [][]heatWindow) (ranges []heatRange) {
	lows, highs := map[unit.Celsius]bool{}, map[unit.Celsius]bool{}
	for _, chain := range chains {
		for _, w := range chain {
			lows[w.low], highs[w.high] = true, true
		}
	}
	if len(lows)*len(highs) > 2*mostRanges {
		ranges = apart(chains)
	} else {
		for low := range lows {
			for high := range highs {
				if low <= high {
					ranges = append(ranges, heatRange{heatWindow: heatWindow{low, high}})
				}
			}
		}
	}
	slices.SortFunc(ranges, func(a, b heatRange) int { return cmp.Or(cmp.Compare(a.high, b.high), cmp.Compare(a.low, b.low)) })
	for i, r := range ranges {
		ranges[i].before = done
		for j, o := range ranges[:i] {
			if o.high < r.low {
				ranges[i].before = j
			}
		}
	}
	return ranges
}

// apart are the largest ranges that no window reaches out of, and the one of all.
func apart(chains [][]heatWindow) (ranges []heatRange) {
	windows := slices.Concat(chains...)
	slices.SortFunc(windows, func(a, b heatWindow) int { return cmp.Compare(a.low, b.low) })
	all := windows[0]
	for _, w := range windows {
		last := len(ranges) - 1
		if last < 0 || w.low > ranges[last].high {
			ranges = append(ranges, heatRange{heatWindow: w})
		} else {
			ranges[last].high = max(ranges[last].high, w.high)
		}
		all.high = max(all.high, w.high)
	}
	if len(ranges) > 1 {
		ranges = append(ranges, heatRange{heatWindow: all})
	}
	return ranges
}

// within is how many anneals of a class fall into each range.
func (s *heatSearch) within(class int) []int {
	counts := make([]int, len(s.ranges))
	for c := class; c != done; c = s.classes[c].next {
		for r, span := range s.ranges {
			if w := s.classes[c].head; w.low >= span.low && w.high <= span.high {
				counts[r]++
			}
		}
	}
	return counts
}

// bound is a number of heats that the pieces waiting need at least. No heat serves two
// ranges that are apart; within one they need as many as the longest chain, and as
// many as hold all. It takes the ranges apart that make the largest sum.
func (s *heatSearch) bound() int {
	n := len(s.ranges)
	clear(s.sums)
	s.budget -= 8 * len(s.counts)
	total, longest, best := s.sums[:n], s.sums[n:2*n], s.sums[2*n:]
	for c, n := range s.counts {
		if n == 0 {
			continue
		}
		s.budget -= len(s.ranges)
		for r, k := range s.classes[c].within {
			total[r] += n * k
			longest[r] = max(longest[r], k)
		}
	}
	for r, span := range s.ranges {
		need := max(longest[r], (total[r]+s.atOnce-1)/s.atOnce)
		best[r+1] = max(best[r], best[span.before+1]+need)
	}
	return best[n]
}
