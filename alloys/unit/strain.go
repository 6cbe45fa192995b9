package unit

import "math"

// Strain is an equivalent true (logarithmic) plastic strain, dimensionless and
// never negative: the one measure in which hammering, rolling, drawing, bending
// and twisting add up.
type Strain float64

// ThicknessReduction is a fraction 0..1 of the thickness taken off a strip with
// no spread (plane strain): what handbooks print for rolled strip and sheet.
type ThicknessReduction float64

// AreaReduction is a fraction 0..1 of the cross-section taken off a drawn wire
// or bar: what handbooks print for wire.
type AreaReduction float64

// planeStrain is 2/√3: von Mises equivalent strain over thickness strain when
// the width does not change.
const planeStrain = 2 / 1.7320508075688772

// Strain is (2/√3) ln(1/(1-r)), the von Mises equivalent of plane strain
// (rolling with no spread). It is +Inf at r = 1.
func (r ThicknessReduction) Strain() Strain {
	return Strain(planeStrain * -math.Log1p(-float64(r)))
}

// Strain is ln(1/(1-r)) = ln(A0/A1), the true strain of drawing
// (Dieter, Mechanical Metallurgy, ch. 8 and 15). It is +Inf at r = 1.
func (r AreaReduction) Strain() Strain { return Strain(-math.Log1p(-float64(r))) }

// Worked is the rolling reduction that would have put in the same strain:
// 1 - exp(-(√3/2) s).
func (s Strain) Worked() ThicknessReduction {
	return ThicknessReduction(-math.Expm1(-float64(s) / planeStrain))
}

// AreaReduction is the drawing reduction that would have put in the same
// strain: 1 - exp(-s).
func (s Strain) AreaReduction() AreaReduction { return AreaReduction(-math.Expm1(-float64(s))) }

// String prints three decimals.
func (s Strain) String() string { return number(float64(s), 3) }

// String prints to 0.1 % and names the kind.
func (r ThicknessReduction) String() string { return percent(float64(r)) + " of thickness" }

// String prints to 0.1 % and names the kind.
func (r AreaReduction) String() string { return percent(float64(r)) + " of area" }

func percent(f float64) string { return number(100*f, 1) + " %" }
