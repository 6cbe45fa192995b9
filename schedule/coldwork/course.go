package coldwork

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"dullred/alloys/unit"
)

// Course is one observation of a hand: a number of courses of one process
// between two readings, and the strain those readings show.
type Course struct {
	Hand    string // id of the hand
	Alloy   string // id of the alloy
	Process Process
	Count   int
	Strain  unit.Strain
	From    unit.Strain // that was in the metal before them, since it was last soft
	Section Section     // that they began at
}

// Hand is what is known of the strain one course puts into soft metal (Effort): the
// logarithm of the strain is normal with unknown mean and variance, and the knowledge of both is
// the conjugate normal-inverse-gamma distribution (DeGroot, Optimal Statistical
// Decisions, ch. 9). The zero Hand knows nothing and forecasts nothing.
type Hand struct {
	weight float64 // courses that the knowledge of the mean is worth
	mean   float64 // of ln strain per course
	shape  float64 // of the inverse gamma over the variance
	scale  float64
	seen   float64 // courses measured, of the weight
	strain float64 // that those courses would have put into soft metal together
	count  int     // courses measured, whatever they weigh
	even   bool    // every course is taken to put in the same, however hard the metal is
}

// The spread of the prior, a judgement: from course to course one smith's blows
// vary by about a quarter (log-sd 0.25), and two smiths differ by about a third
// (log-sd 0.3). A shape of 3 lets a dozen courses overrule both.
const (
	withinHand  = 0.25
	betweenHand = 0.30
	priorShape  = 3
)

// Prior is what is assumed of a hand before any course of this process was measured.
func Prior(p Process) Hand {
	return Hand{
		weight: withinHand * withinHand / (betweenHand * betweenHand),
		mean:   math.Log(float64(p.expected())),
		shape:  priorShape,
		scale:  withinHand * withinHand * (priorShape - 1),
	}
}

// Even is a hand of which only an average is known: n courses that put in a
// strain together, spread evenly, each varying as the prior says. Stiffening is not
// reckoned with: nothing is known of how the strain grew.
func Even(total unit.Strain, n int) Hand {
	h := Prior(Lengthen)
	h.weight, h.seen, h.strain, h.count, h.even = float64(n), float64(n), float64(total), n, true
	h.mean = math.Log(h.strain/float64(n)) - h.variance()/2
	return h
}

// Learn is the hand after one more observation: the mean log strain of n
// courses is normal with variance σ²/n. An observation without strain teaches nothing.
func (h Hand) Learn(c Course) Hand {
	if c.Count <= 0 || c.Strain <= 0 || h.weight == 0 {
		return h
	}
	n, effort := float64(c.Count), float64(c.Effort())
	y := math.Log(effort / n)
	d := y - h.mean
	h.scale += 0.5 * h.weight * n / (h.weight + n) * d * d
	h.mean += n / (h.weight + n) * d
	h.weight += n
	h.shape += 0.5
	h.seen += n
	h.strain += effort
	h.count += c.Count
	return h
}

// Seen is the number of measured courses the hand was learned from.
func (h Hand) Seen() int { return h.count }

// variance is the expected variance of ln strain from course to course.
func (h Hand) variance() float64 { return h.scale / (h.shape - 1) }

// PerCourse is the expected strain of one course on soft metal; 0 when nothing is
// known.
func (h Hand) PerCourse() unit.Strain {
	if h.weight == 0 {
		return 0
	}
	return unit.Strain(math.Exp(h.mean + h.variance()/2))
}

// Range is between which strains one course on soft metal lies with a chance of 8 in 10; 0 when
// nothing is known.
func (h Hand) Range() (low, high unit.Strain) {
	if h.weight == 0 {
		return 0, 0
	}
	t := distuv.StudentsT{Mu: h.mean, Sigma: math.Sqrt(h.scale / h.shape * (1 + 1/h.weight)), Nu: 2 * h.shape}
	return unit.Strain(math.Exp(t.Quantile(0.1))), unit.Strain(math.Exp(t.Quantile(0.9)))
}

// Courses is a forecast of how many more courses stay under the limit: at least
// Low with a chance of 9 in 10, Likely with an even chance, and not more than
// High but for 1 in 10.
type Courses struct {
	Low, Likely, High int
	NextCrosses       float64 // chance 0..1 that the next course crosses the limit
}

// mostCourses ends the count for a hand that hardly works the metal.
const mostCourses = 99

// Left forecasts the courses that are left before the work done reaches the
// limit, reckoned in what they would give soft metal.
func (h Hand) Left(done Estimate, limit unit.Strain) Courses {
	return h.LeftUnread(done, 0, limit)
}

// LeftUnread is Left with courses of this hand that were not read on top of the
// work that is known: if the hand is heavier than it is taken to be, they were
// heavier too, so they are forecast together with the courses to come.
func (h Hand) LeftUnread(known Estimate, unread int, limit unit.Strain) Courses {
	c := Courses{NextCrosses: 1}
	if h.weight == 0 || h.After(known.Strain, unread) >= limit {
		return c
	}
	if !h.even {
		known, limit = softened(known), Effort(limit)
	}
	for k := 1; k <= mostCourses; k++ {
		under := h.under(unread+k, known, limit)
		if k == 1 {
			c.NextCrosses = 1 - under
		}
		if under < 0.1 {
			break
		}
		c.High = k
		if under >= 0.5 {
			c.Likely = k
		}
		if under >= 0.9 {
			c.Low = k
		}
	}
	return c
}

// readingNodes are equally likely values of the error of the work done, in
// standard errors.
var readingNodes = func() (z [9]float64) {
	for i := range z {
		z[i] = distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(len(z)))
	}
	return z
}()

// under is the chance that k more courses stay under the limit. The sum of k
// log-normal courses is taken as log-normal with the same mean and variance
// (Fenton, IRE Trans. Commun. Syst. 8, 1960), the unknown mean and variance of
// the hand make it a Student t in the logarithm, and the error of the work done
// is averaged over.
func (h Hand) under(k int, done Estimate, limit unit.Strain) float64 {
	s2 := h.scale / h.shape
	sum2 := math.Log1p(math.Expm1(s2) / float64(k))
	centre := h.mean + math.Log(float64(k)) + s2/2 - sum2/2
	t := distuv.StudentsT{Sigma: math.Sqrt(sum2 + s2/h.weight), Nu: 2 * h.shape}
	chance := 0.0
	for _, z := range readingNodes {
		off := z * float64(done.Sigma)
		left := float64(limit-done.Strain) - off
		if left <= 0 {
			continue
		}
		t.Mu = centre + h.misread(off, done)
		chance += t.CDF(math.Log(left))
	}
	return chance / float64(len(readingNodes))
}

// misread is how much larger, in the logarithm, a course is than was learned
// when the work is larger than was reckoned by off: the readings that showed the
// work also taught the courses. Of what was learned beyond this work the error
// says nothing, so that it is spread over the larger of the two.
func (h Hand) misread(off float64, done Estimate) float64 {
	strain := max(h.strain, float64(done.Strain))
	if h.seen == 0 || off <= -strain {
		return 0
	}
	return h.seen / h.weight * math.Log1p(off/strain)
}

// spreadOf is the standard error of the sum of n courses over the strain of one:
// the scatter from course to course and the uncertain mean.
func (h Hand) spreadOf(n int) float64 {
	if h.weight == 0 {
		return 0
	}
	k := float64(n)
	return math.Sqrt(h.variance() * (k + k*k/h.weight))
}
