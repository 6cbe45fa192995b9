package coldwork

import (
	"math"

	"dullred/alloys/unit"
)

// stiffening is how much less a blow gives hardened metal: a course that puts a
// strain into soft metal puts 1/(1 + stiffening·e) of it into metal worked by e.
// It is a judgement: the hardness of sterling about doubles by a strain of 0.69,
// and a smith is taken to make up half of the difference by striking harder, so
// that a course there gives three quarters of what it gave at first.
const stiffening = 0.5

// Effort is the strain that the blows which worked soft metal by e would have put
// in, had it stayed soft: e + e²/4, the integral of 1 + stiffening·e.
func Effort(e unit.Strain) unit.Strain { return e + stiffening/2*e*e }

// Given is the strain that an effort gives soft metal, which stiffens on the way:
// 2·(√(1+x) - 1), the inverse of Effort. An effort below -1 is none, and NaN.
func Given(x unit.Strain) unit.Strain {
	return unit.Strain(math.Sqrt(1+2*stiffening*float64(x))-1) / stiffening
}

// softened is an estimate of work as effort; its error grows with the stiffness.
func softened(e Estimate) Estimate {
	return Estimate{Effort(e.Strain), e.Sigma * (1 + stiffening*e.Strain)}
}

// Effort is what the courses of an observation would have given soft metal.
func (c Course) Effort() unit.Strain { return Effort(c.From+c.Strain) - Effort(c.From) }

// After is the strain expected after n more courses on metal worked by done.
func (h Hand) After(done unit.Strain, n int) unit.Strain {
	if h.even {
		return done + unit.Strain(n)*h.PerCourse()
	}
	return Given(Effort(done) + unit.Strain(n)*h.PerCourse())
}
