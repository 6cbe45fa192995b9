package trial

import (
	"math"
	"math/rand/v2"
)

// stream is a row of random numbers that are drawn when they are first asked for,
// so that every policy meets the same ones in the same places.
type stream struct {
	src    rand.PCG
	rng    *rand.Rand
	draw   func(*rand.Rand) float64
	values []float64
}

func newStream(draw func(*rand.Rand) float64) *stream {
	s := &stream{draw: draw}
	s.rng = rand.New(&s.src)
	return s
}

func (s *stream) start(seed, row uint64) {
	s.src.Seed(seed, row)
	s.values = s.values[:0]
}

func (s *stream) at(i int) float64 {
	for len(s.values) <= i {
		s.values = append(s.values, s.draw(s.rng))
	}
	return s.values[i]
}

// piece is all that chance decides of one piece: how strong each course is, at
// what strain each interval splits, and how far off each reading is.
type piece struct {
	shop                      *Shop
	hand, scale               float64 // middle course of the smith, scale of the stock
	courses, limits, misreads *stream
}

func newPiece(s *Shop) *piece {
	within, shape, misread := s.Within, s.Shape, s.misread()
	return &piece{shop: s,
		courses:  newStream(func(r *rand.Rand) float64 { return math.Exp(within * r.NormFloat64()) }),
		limits:   newStream(func(r *rand.Rand) float64 { return math.Pow(r.ExpFloat64(), 1/shape) }),
		misreads: newStream(func(r *rand.Rand) float64 { return misread * r.NormFloat64() }),
	}
}

// start makes it the piece of a number, of a smith and a stock.
func (p *piece) start(number uint64, hand, scale float64) {
	p.hand, p.scale = hand, scale
	for i, s := range []*stream{p.courses, p.limits, p.misreads} {
		s.start(p.shop.Seed, number*4+uint64(i)+1)
	}
}

// course is the strain that a course gives soft metal.
func (p *piece) course(i int) float64 { return p.hand * p.courses.at(i) }

// limit is the strain at which an interval splits.
func (p *piece) limit(i int) float64 { return p.scale * p.limits.at(i) }
