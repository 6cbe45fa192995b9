package trial

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// smith is one hand of the shop: what its middle course on soft metal truly is,
// what was learned of it, and how far from the limit it has to stop for each
// chance that the next course crosses it.
type smith struct {
	course  float64
	learned coldwork.Hand
	margin  map[float64]float64 // strain on soft metal
}

// smiths are the hands of the shop, at evenly spread quantiles, so that a shop has
// no more heavy hands than another by chance.
func (s *Shop) smiths(chances []float64) []smith {
	all := make([]smith, s.Hands)
	for i := range all {
		z := distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(s.Hands))
		h := smith{course: math.Exp(s.meanLog() + s.Hand*z), margin: map[float64]float64{}}
		h.learned = s.teach(h.course, uint64(i))
		for _, c := range chances {
			h.margin[c] = s.marginOf(h.learned, c)
		}
		all[i] = h
	}
	return all
}

// teach is what dullred knows of a hand whose courses were read one by one, worked
// to three quarters of the published limit over and over.
func (s *Shop) teach(course float64, number uint64) coldwork.Hand {
	p := newPiece(s)
	p.start(taughtRow+number, course, math.Inf(1))
	hand, e, read := coldwork.Prior(coldwork.Lengthen), 0.0, 0.0
	for i := range s.Taught {
		add := s.stiffened(p.course(i), e)
		showed := add + p.misreads.at(i+1) - p.misreads.at(i)
		hand = hand.Learn(coldwork.Course{Process: coldwork.Lengthen, Count: 1, Strain: unit.Strain(showed), From: unit.Strain(max(0, read))})
		if e, read = e+add, read+showed; e > taughtTo*float64(s.Published) {
			e, read = 0, 0
		}
	}
	return hand
}

// taughtTo is the share of the published limit to which the courses that taught a
// hand went.
const taughtTo = 0.75

// Rows of random numbers that are no pieces' own.
const (
	taughtRow  = 1 << 40
	historyRow = 1 << 41
	othersRow  = 1 << 42
	stocksRow  = 1 << 43
)

// marginOf is how far short of a limit, in strain on soft metal, the next course of a
// hand crosses it with a chance: coldwork's own forecast, turned round once so that
// the pieces need not ask it at every course. It hardly depends on the limit itself,
// because the hand has measured more than one interval.
func (s *Shop) marginOf(h coldwork.Hand, chance float64) float64 {
	near, far := 0.0, float64(coldwork.Effort(s.Published))
	for range 14 {
		mid := (near + far) / 2
		done := coldwork.Estimate{Strain: unit.Strain(short(float64(s.Published), mid)), Sigma: s.sigma()}
		if h.Left(done, s.Published).NextCrosses > chance {
			near = mid
		} else {
			far = mid
		}
	}
	return far
}

// short is the strain that is a margin, in strain on soft metal, below a limit.
func short(limit, margin float64) float64 {
	return float64(coldwork.Given(max(0, coldwork.Effort(unit.Strain(limit))-unit.Strain(margin))))
}

// stocks are the scales of the stocks of all pieces, at evenly spread quantiles in
// random order.
func (s *Shop) stocks() []float64 {
	scales := make([]float64, s.Pieces)
	for i := range scales {
		scales[i] = s.scale(distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(s.Pieces)))
	}
	rand.New(rand.NewPCG(s.Seed, stocksRow)).Shuffle(len(scales), func(i, j int) { scales[i], scales[j] = scales[j], scales[i] })
	return scales
}

// scale is that of a stock z standard deviations from the middle.
func (s *Shop) scale(z float64) float64 { return float64(s.Scale) * math.Exp(s.Stocks*z) }
