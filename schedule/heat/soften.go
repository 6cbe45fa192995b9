package heat

import (
	"math"
	"time"

	"dullred/alloys/unit"
)

// Span is a piece of the history of a heat, at one temperature.
type Span struct {
	Temp unit.Celsius
	For  time.Duration
}

// Softened is the share of the cold work that a heat took away, 0 to 1, as a band.
type Softened struct{ Low, Likely, High float64 }

// Left is the likely strain left, strain (1 - X): hardness is taken as a mixture of
// new grain and old.
func (s Softened) Left(worked unit.Strain) unit.Strain { return worked * unit.Strain(1-s.Likely) }

// The work that is not annealed, since so little of it makes no new grain, or a
// few coarse ones. Published are 12 % of the thickness for tin bronze (Gordon and
// Knopf 2006, abstract) and about 5 % for iron (Callister); that the span holds
// for every metal is a judgement.
const (
	leastCritical unit.ThicknessReduction = 0.03
	mostCritical  unit.ThicknessReduction = 0.12
)

// Spare is empty unless so little work is in the metal that it is better not
// annealed; then it says so. It holds for a heat that is shared with other pieces too.
func Spare(worked unit.Strain) string {
	switch {
	case !(worked > 0) || worked >= mostCritical.Strain():
		return ""
	case worked < leastCritical.Strain():
		return "leave it: under 3 % worked makes no new grain, and there is nothing to soften"
	}
	return "leave it: 3 to 12 % worked is not annealed, the grain would come out coarse"
}

// Soften is what a history makes of work. The order of its spans does not matter.
func (k Kinetics) Soften(worked unit.Strain, history []Span) Softened {
	return k.from(worked, k.theta(worked, history))
}

// theta is the integral of dt/t05 for the slow, the likely and the fast end; that
// spans add up is Scheil's additivity.
func (k Kinetics) theta(worked unit.Strain, history []Span) (theta [3]float64) {
	for _, span := range history {
		for i, r := range k.rates(worked, span.Temp) {
			theta[i] += r * max(span.For, 0).Seconds()
		}
	}
	return theta
}

// from is what is soft by the three integrals of theta, the slow end first: X = 1 -
// 2^(-theta^n), after Johnson, Mehl, Avrami and Kolmogorov. The exponent is in the
// band too. Work below the critical has no softening that is counted on: its low
// and likely are none.
func (k Kinetics) from(worked unit.Strain, theta [3]float64) Softened {
	if len(k.all) == 0 || !(worked >= leastCritical.Strain()) {
		return Softened{}
	}
	least, most := k.exponents()
	s := Softened{
		Low:    min(transformed(theta[0], least), transformed(theta[0], most)),
		Likely: transformed(theta[1], k.all[0].n),
		High:   max(transformed(theta[2], least), transformed(theta[2], most)),
	}
	if worked < mostCritical.Strain() {
		s.Low, s.Likely = 0, 0
	}
	return s
}

// exponents are the least and the most exponent of time that was observed.
func (k Kinetics) exponents() (least, most float64) {
	least, most = k.all[0].n, k.all[0].n
	for _, o := range k.all {
		least, most = min(least, o.n), max(most, o.n)
	}
	return least, most
}

// transformed is 1 - 2^(-theta^n).
func transformed(theta, n float64) float64 {
	if !(theta > 0) {
		return 0
	}
	return -math.Expm1(-math.Ln2 * math.Pow(theta, n))
}

// thetaOf is the theta at which a fraction below 1 is transformed.
func thetaOf(fraction, n float64) float64 {
	return math.Pow(-math.Log1p(-fraction)/math.Ln2, 1/n)
}

// nearlyAll stands for what is more: the law reaches 1 at no time.
const nearlyAll = 0.999

// Time is how long a soak takes to soften a fraction of the work: by the fast end
// (low), as likely, and by the slow end (high), by which it is soft whatever the
// band holds. unit.MaxDuration stands for a year or more and for never.
func (k Kinetics) Time(worked unit.Strain, temp unit.Celsius, fraction float64) (low, likely, high time.Duration) {
	if !(fraction > 0) {
		return 0, 0, 0
	}
	if len(k.all) == 0 || !(worked >= leastCritical.Strain()) {
		return unit.MaxDuration, unit.MaxDuration, unit.MaxDuration
	}
	fraction = min(fraction, nearlyAll)
	least, most := k.exponents()
	p, q := thetaOf(fraction, least), thetaOf(fraction, most)
	rate := k.rates(worked, temp)
	low = softenedIn(min(p, q) / rate[2])
	if worked < mostCritical.Strain() {
		return low, unit.MaxDuration, unit.MaxDuration
	}
	return low, softenedIn(thetaOf(fraction, k.all[0].n) / rate[1]), softenedIn(max(p, q) / rate[0])
}

// softenedIn is a number of seconds, a year at most.
func softenedIn(seconds float64) time.Duration {
	if !(seconds < unit.MaxDuration.Seconds()) {
		return unit.MaxDuration
	}
	return time.Duration(math.Ceil(seconds * float64(time.Second)))
}
