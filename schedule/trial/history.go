package trial

import (
	"math/rand/v2"

	"dullred/alloys/unit"
	"dullred/schedule/split"
)

// archive makes the history of a stock before the piece that is judged.
type archive struct {
	shop *Shop
	bar  *piece
	kept []split.Interval
}

func newArchive(s *Shop) *archive { return &archive{shop: s, bar: newPiece(s)} }

// worked are n intervals of a stock by one hand and rule, in pieces of the usual
// size one after the other. The slice is good until the next call.
func (a *archive) worked(n int, first uint64, m material, r rule) []split.Interval {
	a.kept = a.kept[:0]
	keep := func(i split.Interval) { a.kept = append(a.kept, i) }
	for number := first; len(a.kept) < n; number++ {
		a.bar.start(number, m.course, m.scale)
		a.bar.work(r, keep)
	}
	return a.kept[:n]
}

// tests are n scraps of a stock, worked until they split.
func (a *archive) tests(n int, first uint64, m material) []split.Interval {
	a.kept = a.kept[:0]
	a.bar.start(first, m.course, m.scale)
	for i := range n {
		read := a.bar.limit(i) + a.bar.misreads.at(2*i) - a.bar.misreads.at(2*i+1)
		a.kept = append(a.kept, split.Interval{Strain: unit.Strain(read), Split: true})
	}
	return a.kept
}

// others is what the shop expects of a stock that it never saw, when its one record
// has an interval from each of n others, by its smiths in turn and by their own
// advice at the published limit. That limit is meant for stocks that nobody has
// seen; where the others show that it is too daring for such, what they show
// stands in its place.
func (a *archive) others(n int, smiths []smith) split.Knowledge {
	var all []split.Interval
	stocks := rand.New(rand.NewPCG(a.shop.Seed, stocksRow+1))
	for i := range n {
		h := smiths[i%len(smiths)]
		a.bar.start(othersRow+uint64(i), h.course, a.shop.scale(stocks.NormFloat64()))
		in := a.bar.interval(rule{stop: short(float64(a.shop.Published), h.margin[advised])}, 0, 0, float64(a.shop.Total))
		all = append(all, split.Interval{Strain: unit.Strain(in.read), Split: in.split})
	}
	c := split.Caution{Published: a.shop.Published, Risk: split.Risk}
	return split.Prior(c.Warn(split.Prior(a.shop.Published).Learn(all)))
}

// material is a hand at work on a stock.
type material struct{ course, scale float64 }
