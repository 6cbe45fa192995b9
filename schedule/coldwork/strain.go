package coldwork

import (
	"fmt"
	"math"

	"dullred/alloys/unit"
)

// MaxCalliper is the largest error of a reading that is believed, in mm: a
// larger one would net every change away and never warn (a judgement).
const MaxCalliper unit.Millimetre = 2

// CheckCalliper refuses an error of a reading that is not above 0, or above MaxCalliper.
func CheckCalliper(u unit.Millimetre) error {
	if !(u > 0 && u <= MaxCalliper) {
		return fmt.Errorf("a reading good to %v: expected an error of at most %v, such as 0.1mm", u, MaxCalliper)
	}
	return nil
}

// Estimate is a strain with its standard error.
type Estimate struct {
	Strain unit.Strain
	Sigma  unit.Strain
}

// Plus adds two independent estimates: strains add, errors in quadrature.
func (e Estimate) Plus(f Estimate) Estimate {
	return Estimate{e.Strain + f.Strain, unit.Strain(math.Hypot(float64(e.Sigma), float64(f.Sigma)))}
}

// Low is the estimate less one standard error, never below zero.
func (e Estimate) Low() unit.Strain { return max(0, e.Strain-e.Sigma) }

// High is the estimate plus one standard error.
func (e Estimate) High() unit.Strain { return e.Strain + e.Sigma }

// Between is the equivalent strain of one change of section, von Mises with
// constant volume: sqrt(2/3 (et² + ew² + el²)). For a sheet, whose width is not
// followed, ew = 0 and it becomes (2/√3) |ln(t1/t0)|. Sections that are not
// Comparable give 0.
func Between(a, b Section) unit.Strain {
	if !a.Comparable(b) {
		return 0
	}
	t0, w0 := a.sides()
	t1, w1 := b.sides()
	return equivalent(math.Log(t1/t0), math.Log(w1/w0))
}

func equivalent(et, ew float64) unit.Strain {
	el := -(et + ew)
	return unit.Strain(math.Sqrt(2. / 3 * (et*et + ew*ew + el*el)))
}

// Chain is the strain summed along a chain of readings, with the error that a
// calliper wrong by u (mm) on every reading leaves in the sum. A reading inside
// the chain counts in two changes, so along a straight path its error cancels.
func Chain(sections []Section, u unit.Millimetre) Estimate {
	total := func(s []Section) float64 {
		sum := 0.0
		for i := 1; i < len(s); i++ {
			sum += float64(Between(s[i-1], s[i]))
		}
		return sum
	}
	centre := total(sections)
	return Estimate{unit.Strain(centre), unit.Strain(quadrature(sections, u, total))}
}

// Reduction is the area reduction from a to b with its low and high ends for a
// calliper wrong by u (mm) on every reading. For a sheet, whose width is not
// followed, it is the reduction of thickness. Sections that cannot be compared
// give ok = false.
func Reduction(a, b Section, u unit.Millimetre) (r, low, high unit.AreaReduction, ok bool) {
	if !a.Comparable(b) {
		return 0, 0, 0, false
	}
	taken := func(s []Section) float64 {
		t0, w0 := s[0].sides()
		t1, w1 := s[1].sides()
		return 1 - t1*w1/(t0*w0)
	}
	pair := []Section{a, b}
	centre := taken(pair)
	spread := quadrature(pair, u, taken)
	return unit.AreaReduction(centre), unit.AreaReduction(centre - spread), unit.AreaReduction(min(1, centre+spread)), true
}

// quadrature is the root of the summed squares of what f changes by when one
// reading after the other is off by u; of the two directions the larger counts.
func quadrature(sections []Section, u unit.Millimetre, f func([]Section) float64) float64 {
	centre := f(sections)
	moved := append([]Section(nil), sections...)
	sum := 0.0
	for i, s := range sections {
		for k, value := range s.readings() {
			step := min(float64(u), value/2)
			change := 0.0
			for _, sign := range []float64{-1, 1} {
				r := s.readings()
				r[k] += sign * step
				moved[i] = s.with(r)
				change = max(change, math.Abs(f(moved)-centre))
			}
			moved[i] = s
			sum += change * change
		}
	}
	return math.Sqrt(sum)
}

// Bend is the strain at the outer skin of a wide strip of thickness t bent to
// an inside radius r: (2/√3) ln(1+e) with e = t/(2r+t), the neutral axis taken
// at mid-thickness (Kalpakjian & Schmid, sheet-metal bending; small error for
// r/t > 2). Straightening it again counts again.
func Bend(t, r unit.Millimetre) unit.Strain {
	e := OuterFibre(t, r)
	return unit.Strain(2 / math.Sqrt(3) * math.Log1p(e))
}

// OuterFibre is the engineering strain t/(2r+t) of the outer skin of a bend.
func OuterFibre(t, r unit.Millimetre) float64 { return float64(t / (2*r + t)) }

// Twist is the strain at the surface of a bar twisted by turns over a length:
// shear γ = 2π turns r/length, equivalent γ/√3 (Dieter, torsion). For a square or
// rectangular bar there is no simple exact result; low takes half the thinner
// side as r, high half the diagonal, and high is what counts, so that it errs
// early. For a round bar both are the same.
func Twist(s Section, turns float64, over unit.Millimetre) (low, high unit.Strain) {
	inner, outer := s.twistRadii()
	k := 2 * math.Pi * math.Abs(turns) / float64(over) / math.Sqrt(3)
	return unit.Strain(k * inner), unit.Strain(k * outer)
}

func (s Section) twistRadii() (inner, outer float64) {
	switch s.Shape {
	case unit.Round, unit.Tube:
		return float64(s.Diameter) / 2, float64(s.Diameter) / 2
	}
	t, w := float64(s.Thick), float64(s.Width)
	return min(t, w) / 2, math.Hypot(t, w) / 2
}

// DrawnPart is the length that one part of a bar has reached when only that
// part, a share of the old length between 0 and 1, was drawn out and the whole
// grew from one length to another.
func DrawnPart(from, to unit.Millimetre, share float64) (before, after unit.Millimetre) {
	before = from * unit.Millimetre(share)
	return before, before + to - from
}

// Lengthened is the true strain ln(l1/l0) along a part that grew from l0 to l1;
// with constant volume its area has gone down by the AreaReduction of that strain.
func Lengthened(l0, l1 unit.Millimetre) unit.Strain {
	return unit.Strain(math.Log(float64(l1 / l0)))
}
