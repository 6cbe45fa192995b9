package split

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat/distuv"
)

// shapes are the values that the shape of the law may have, a factor √2 apart:
// from a scatter of a third between intervals of one stock to one of a twentieth
// (the standard deviation over the mean is about 1.2/shape). A judgement.
var shapes = [...]float64{4, 5.66, 8, 11.3, 16, 22.6}

// usualShape and shapeSpread say how likely each shape is before anything was
// seen: log-normal about a scatter of a ninth, with 19 in 20 between a sixteenth
// and a fifth. A judgement: tension tests of one bar of sound metal repeat to
// about a tenth (from memory), and a hammer is less even than a testing machine. It
// was narrowed from a spread of 0.5 (and that of the scale from 0.25 to 0.2) after
// the simulated shop of schedule/trial: there the wider prior took one early split
// of ten intervals for patchy metal and cost more heats than it saved pieces.
const (
	usualShape  = 11
	shapeSpread = 0.3
)

var shapeWeights = func() (weights [len(shapes)]float64) {
	law := distuv.Normal{Mu: math.Log(usualShape), Sigma: shapeSpread}
	for j, shape := range shapes {
		weights[j] = law.Prob(math.Log(shape))
	}
	floats.Scale(1/floats.Sum(weights[:]), weights[:])
	return weights
}()

// spread is the standard deviation of the logarithm of the scale before anything
// was seen: how far stocks differ, and how far off the published figure may be. A
// judgement.
const spread = 0.2

// The grid of the scale, for each shape.
const (
	depth  = 24  // nats below its mode at which the posterior is cut off
	stride = 0.5 // largest step, over 1/shape: the width of the law itself
	least  = 40  // steps across the posterior, for one that is narrow
)

// evidence is all that the intervals say, in units of the published limit.
type evidence struct {
	splits, whole int
	logs          float64              // of the strains of the splits, summed
	powers        [len(shapes)]float64 // of all strains to each shape, summed
	longest       [enough]float64      // strains, falling
}

// enough is how many intervals must have gone so far before what they say is
// believed there. A judgement: two slips of the keys are not enough.
const enough = 3

func (e evidence) add(strain float64, split bool) evidence {
	ln := math.Log(strain)
	for j, shape := range shapes {
		e.powers[j] += math.Exp(shape * ln)
	}
	for i, l := range e.longest {
		if strain > l {
			copy(e.longest[i+1:], e.longest[i:])
			e.longest[i] = strain
			break
		}
	}
	if !split {
		e.whole++
		return e
	}
	e.splits++
	e.logs += ln
	return e
}

// band is the posterior of the logarithm of the scale for one shape, at evenly
// spaced points: the trapezoidal rule, which for a smooth function that is nothing
// at both ends is as exact as any.
type band struct {
	shape, first, step float64
	weight             []float64
}

// posterior is the logarithm of the prior and the likelihood for one shape, as
// a function u of the logarithm of the scale.
type posterior struct {
	shape, splits, power, constant float64
	prior                          distuv.Normal
}

func (e evidence) posterior(j int, middle float64) posterior {
	shape, splits := shapes[j], float64(e.splits)
	return posterior{shape: shape, splits: splits, power: e.powers[j],
		constant: math.Log(shapeWeights[j]) + splits*math.Log(shape) + (shape-1)*e.logs,
		prior:    distuv.Normal{Mu: middle, Sigma: spread}}
}

func (p posterior) at(u float64) float64 { return p.with(u, p.power*math.Exp(-p.shape*u)) }

// with is at for one who knows the summed hazard of all intervals already.
func (p posterior) with(u, hazard float64) float64 {
	return p.constant + p.prior.LogProb(u) - p.shape*p.splits*u - hazard
}

// mode is where the posterior is greatest. Its slope is a falling convex function,
// so that Newton's steps from below come up to its root and never pass it.
func (p posterior) mode() float64 {
	u := p.prior.Mu
	if p.splits > 0 {
		u = min(u, math.Log(p.power/p.splits)/p.shape)
	}
	for range 300 {
		hazard := p.power * math.Exp(-p.shape*u)
		slope := p.shape*(hazard-p.splits) - (u-p.prior.Mu)/(spread*spread)
		step := slope / (p.shape*p.shape*hazard + 1/(spread*spread))
		u += step
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	return u
}

// edge is about where the posterior has fallen by depth on one side of its mode:
// it falls at least as fast as the prior, which bounds the search.
func (p posterior) edge(mode, side float64) float64 {
	floor := p.at(mode) - depth
	in, out := mode, mode+side*spread*math.Sqrt(2*depth)
	for range 12 {
		if mid := (in + out) / 2; p.at(mid) > floor {
			in = mid
		} else {
			out = mid
		}
	}
	return out
}

// band lays the points; the weights are logarithms as yet.
func (p posterior) band() band {
	mode := p.mode()
	first, last := p.edge(mode, -1), p.edge(mode, 1)
	steps := max(least, math.Ceil((last-first)*p.shape/stride))
	b := band{shape: p.shape, first: first, step: (last - first) / steps, weight: make([]float64, int(steps)+1)}
	hazard, ratio, width := p.power*math.Exp(-p.shape*first), math.Exp(-p.shape*b.step), math.Log(b.step)
	for i := range b.weight {
		b.weight[i] = p.with(first+float64(i)*b.step, hazard) + width
		hazard *= ratio
	}
	return b
}

// bands are the posterior of scale and shape; all weights sum to 1.
func (e evidence) bands(middle float64) (bs [len(shapes)]band) {
	top := math.Inf(-1)
	for j := range bs {
		bs[j] = e.posterior(j, middle).band()
		top = max(top, floats.Max(bs[j].weight))
	}
	sum := 0.0
	for j := range bs {
		for i, w := range bs[j].weight {
			bs[j].weight[i] = math.Exp(w - top)
		}
		sum += floats.Sum(bs[j].weight)
	}
	for j := range bs {
		floats.Scale(1/sum, bs[j].weight)
		bs[j].trim()
	}
	return bs
}

// negligible is a weight without which no figure changes.
const negligible = 1e-14

// trim leaves out the points at both ends that weigh nothing.
func (b *band) trim() {
	for len(b.weight) > 0 && b.weight[0] < negligible {
		b.weight, b.first = b.weight[1:], b.first+b.step
	}
	for len(b.weight) > 0 && b.weight[len(b.weight)-1] < negligible {
		b.weight = b.weight[:len(b.weight)-1]
	}
}

// gone is 1 - exp(-h), by its series where that is exact to 1e-13: most of the
// points of a small chance are there.
func gone(h float64) float64 {
	if h < 0.03 {
		return h * (1 - h/2*(1-h/3*(1-h/4*(1-h/5*(1-h/6)))))
	}
	return -math.Expm1(-h)
}

// chance is what the band has of the chance of splitting at a strain with the
// logarithm ln, and what it has of that chance's slope in ln.
func (b *band) chance(ln float64) (splits, slope float64) {
	h, ratio := math.Exp(b.shape*(ln-b.first)), math.Exp(-b.shape*b.step)
	for _, w := range b.weight {
		f := gone(h)
		splits += w * f
		if f < 1 {
			slope += w * h * (1 - f)
		}
		h *= ratio
	}
	return splits, slope * b.shape
}
