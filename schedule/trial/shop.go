package trial

import (
	"math"

	"dullred/alloys/unit"
	"dullred/schedule/split"
)

// Shop is a simulated shop: many smiths, each piece of a stock of its own. All its
// figures are judgements; none was measured in a real shop. A shop whose figures
// make no sense gives the zero Result.
type Shop struct {
	Name   string `json:"name"`
	Seed   uint64 `json:"seed"`
	Pieces int    `json:"pieces"`
	Hands  int    `json:"hands"` // smiths; at most one for each piece

	Total     unit.Strain `json:"total_strain"`    // that a piece is given from start to finish
	Scale     unit.Strain `json:"scale"`           // of the Weibull law of the middle stock
	Stocks    float64     `json:"stocks_log_sd"`   // how far the scale differs from stock to stock
	Shape     float64     `json:"shape"`           // of the law, the same for all stocks
	Published unit.Strain `json:"published_limit"` // the limit that everybody reads

	Course unit.Strain `json:"course_strain"`      // mean of all first courses on soft metal
	Hand   float64     `json:"hands_log_sd"`       // from smith to smith
	Within float64     `json:"courses_log_sd"`     // from course to course of one smith
	Stiff  float64     `json:"stiffening"`         // a blow at strain e gives 1/(1+Stiff e) of what it gives soft metal
	Taught int         `json:"courses_taught"`     // that each smith has measured before
	Error  float64     `json:"calliper_mm"`        // standard error of one reading
	Side   float64     `json:"side_mm"`            // of the bar that is read
	From   float64     `json:"compare_heats_from"` // heats per piece between which policies are compared
	To     float64     `json:"compare_heats_to"`
}

// Usual is the shop of ordinary stock. The published limit of 45 % of thickness is
// a daring one there: one interval in eight does not survive it.
//
// Metal worked by 0.69 takes three quarters of what the same hand puts into soft
// metal: the hardness of sterling about doubles by then, and the smith is taken
// to make up half of the difference by striking harder.
func Usual() Shop {
	return Shop{Name: "usual stock", Seed: 1, Pieces: 20_000, Hands: 200,
		Total: 4, Scale: 0.95, Stocks: 0.2, Shape: 10, Published: unit.ThicknessReduction(0.45).Strain(),
		Course: 0.11, Hand: 0.3, Within: 0.25, Stiff: 0.5, Taught: 60, Error: 0.05, Side: 8, From: 6.5, To: 8.5}
}

// Good is the same shop with stock that splits later than the published limit
// would have it. It is compared at fewer heats, in the same proportion.
func Good() Shop {
	s := Usual()
	s.Name, s.Scale, s.From, s.To = "good stock", 1.22, 5, 7
	return s
}

// sound reports whether the figures make sense, and such that a piece takes some
// thousands of courses at most.
func (s Shop) sound() bool {
	for _, f := range []float64{float64(s.Total), float64(s.Scale), s.Shape, float64(s.Course), s.Side} {
		if !(f > 0 && f < 1000) {
			return false
		}
	}
	for _, f := range []float64{s.Stocks, s.Hand, s.Within, s.Stiff, s.Error} {
		if !(f >= 0 && f <= 1) {
			return false
		}
	}
	return split.Prior(s.Published).Known() && s.Total <= 200*s.Course && s.Hands > 0 && s.Pieces >= s.Hands && s.Taught > 0
}

// misread is the standard error, in strain, of one reading of a square bar: two
// sides, each of which adds its own logarithm.
func (s Shop) misread() float64 { return math.Sqrt2 * s.Error / s.Side }

// sigma is the standard error of the strain between two readings.
func (s Shop) sigma() unit.Strain { return unit.Strain(math.Sqrt2 * s.misread()) }

// stiffened is what a course that gives soft metal a strain gives metal worked by e,
// which stiffens from blow to blow.
func (s Shop) stiffened(soft, e float64) float64 {
	if s.Stiff == 0 {
		return soft
	}
	at := 1 + s.Stiff*e
	return (math.Sqrt(at*at+2*s.Stiff*soft) - at) / s.Stiff
}

// meanLog is the logarithm of the middle course of the middle hand: the mean of a
// log-normal lies above its middle.
func (s Shop) meanLog() float64 {
	return math.Log(float64(s.Course)) - (s.Hand*s.Hand+s.Within*s.Within)/2
}

// splitsBy is the true chance that an interval of a stock splits within a strain.
func (s Shop) splitsBy(e, scale float64) float64 {
	return -math.Expm1(-math.Pow(e/scale, s.Shape))
}
