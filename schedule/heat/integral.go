package heat

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// A flow is the warming or cooling of a body that has one temperature. Nothing in
// it depends on time but through the temperature, so time is a plain integral,
//
//	t = ∫ dT / rate(T),
//
// and no solver that steps through time is needed: there is no step to choose, no
// error that builds up, and a temperature is not hunted for between two steps.
//
// The body comes to rest where the rate is 0 and the integral grows without end.
// With u = ln|T - rest| it is ∫ (T - rest)/rate du, whose integrand is smooth and
// bounded up to the rest: a constant where the loss is proportional to T - rest.
type flow struct {
	rate func(t float64) float64 // K/s at a temperature in °C
	rest float64                 // °C
	cuts []float64               // °C, where the rate has a kink
}

// within is the relative error of an integral; see TestToleranceChangesNothing.
const within = 1e-8

// nearest is how close to its rest a body is followed, in K. Closer, the rate is
// a difference of two figures that are equal in all their digits.
const nearest = 0.01

// deepest is how often a panel is halved.
const deepest = 20

// rule is a Gauss-Legendre rule on -1 to 1.
type rule struct{ x, w []float64 }

func legendre(n int) rule {
	r := rule{make([]float64, n), make([]float64, n)}
	quad.Legendre{}.FixedLocations(r.x, r.w, -1, 1)
	return r
}

// The two orders that must agree.
var coarse, fine = legendre(5), legendre(9)

// over is the integral of f from a to b by the rule.
func (r rule) over(f func(float64) float64, a, b float64) float64 {
	mid, half, sum := (a+b)/2, (b-a)/2, 0.0
	for i, x := range r.x {
		sum += r.w[i] * f(mid+half*x)
	}
	return half * sum
}

// seconds is the time between two temperatures in s.
func (f flow) seconds(from, to float64) float64 { return f.integral(from, to, within) }

// integral is the time in s between two temperatures on one side of the rest, to a
// relative error.
func (f flow) integral(from, to, relative float64) float64 {
	side := math.Copysign(1, from-f.rest)
	inside := func(u float64) float64 {
		d := side * math.Exp(u)
		return d / f.rate(f.rest+d)
	}
	edges := f.edges(from, to)
	parts, size := make([]float64, len(edges)-1), 0.0
	for i := range parts {
		parts[i] = fine.over(inside, edges[i], edges[i+1])
		size += math.Abs(parts[i])
	}
	q := quadrature{inside, relative * size}
	sum := 0.0
	for i, part := range parts {
		sum += q.refine(edges[i], edges[i+1], part, deepest)
	}
	return sum
}

// edges are ln|T - rest| of the way's ends and of the kinks between them.
func (f flow) edges(from, to float64) []float64 {
	lo, hi := min(from, to), max(from, to)
	out := []float64{math.Log(math.Abs(from - f.rest))}
	for i := range f.cuts {
		c := f.cuts[i]
		if from > to {
			c = f.cuts[len(f.cuts)-1-i]
		}
		if c > lo && c < hi {
			out = append(out, math.Log(math.Abs(c-f.rest)))
		}
	}
	return append(out, math.Log(math.Abs(to-f.rest)))
}

// quadrature halves panels until two orders agree within an absolute error.
type quadrature struct {
	f     func(float64) float64
	error float64
}

// refine is the integral over a panel of which the fine rule gave a value.
func (q quadrature) refine(a, b, value float64, depth int) float64 {
	if depth == 0 || math.Abs(coarse.over(q.f, a, b)-value) <= q.error {
		return value
	}
	mid := (a + b) / 2
	return q.refine(a, mid, fine.over(q.f, a, mid), depth-1) + q.refine(mid, b, fine.over(q.f, mid, b), depth-1)
}

// after is the temperature s seconds later: whole stretches of u are passed over,
// then the last one is solved by Newton's steps, kept between its ends.
func (f flow) after(from, s float64) float64 {
	const stretch = 0.5
	for math.Abs(from-f.rest) > nearest {
		next := f.rest + (from-f.rest)*math.Exp(-stretch)
		took := f.seconds(from, next)
		if took > s {
			return f.solve(from, next, s)
		}
		from, s = next, s-took
	}
	return f.rest
}

// solve is the temperature s seconds after from, which lies before to.
func (f flow) solve(from, to, s float64) float64 {
	lo, hi, t := min(from, to), max(from, to), from
	for range 20 {
		left := s
		if t != from {
			left -= f.seconds(from, t)
		}
		next := min(max(t+left*f.rate(t), lo), hi)
		if math.Abs(next-t) < 1e-7 {
			return next
		}
		t = next
	}
	return t
}

// root is where f, which falls from a positive value at lo to a negative one at
// hi, is 0: false position with the Illinois halving, which keeps its bracket.
func root(f func(float64) float64, lo, hi float64) float64 {
	a, b, side := f(lo), f(hi), 0
	for range 200 {
		x := (lo*b - hi*a) / (b - a)
		y := f(x)
		if math.Abs(y) < 1e-13*(math.Abs(a)+math.Abs(b)) || y == 0 || hi-lo < 1e-12*(1+math.Abs(x)) {
			return x
		}
		switch {
		case y > 0:
			lo, a = x, y
			if side == 1 {
				b /= 2
			}
			side = 1
		default:
			hi, b = x, y
			if side == -1 {
				a /= 2
			}
			side = -1
		}
	}
	return (lo + hi) / 2
}
