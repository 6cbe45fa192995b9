package alloys

import (
	"cmp"
	"slices"

	"dullred/alloys/unit"

	"gonum.org/v1/gonum/interp"
)

// Point is one published point of a curve: the scatter at a strain.
type Point struct {
	Strain    unit.Strain
	Low, High float64 // in the unit of the property
}

// Curve is a property against equivalent strain, from one source and for one
// form of metal. The zero Curve has no points and knows nothing.
type Curve struct {
	Property Property
	Form     Form
	Source   string // key of a Source
	Use      Use    // UseDefault for the curve that is computed with

	points    []Point
	low, high *interp.FritschButland
}

// Points returns the published points by rising strain.
func (c Curve) Points() []Point { return slices.Clone(c.points) }

// rounding is how far past its ends a curve still answers, so that a reduction
// written another way (20.7 % or 0.207) is still found at the end point.
const rounding unit.Strain = 1e-9

// At gives the published scatter at a strain: exact at the points and monotone
// between them. Outside the points it is false: no number is invented.
func (c Curve) At(s unit.Strain) (low, high float64, ok bool) {
	if len(c.points) < 2 {
		return 0, 0, false
	}
	from, to := c.points[0].Strain, c.points[len(c.points)-1].Strain
	if !(s >= from-rounding && s <= to+rounding) {
		return 0, 0, false
	}
	x := float64(min(max(s, from), to))
	low, high = c.low.Predict(x), c.high.Predict(x)
	return min(low, high), max(low, high), true
}

// curvesOf gathers an alloy's figures into curves of at least two points, in
// the order in which they first appear.
func curvesOf(figures []Figure) []Curve {
	var keys []curveKey
	points := map[curveKey][]Point{}
	for i := range figures {
		f := &figures[i]
		if !f.onCurve() {
			continue
		}
		k := keyOf(f)
		if points[k] == nil {
			keys = append(keys, k)
		}
		points[k] = append(points[k], Point{Strain: f.place(), Low: f.Low, High: f.High})
	}
	var curves []Curve
	for _, k := range keys {
		if len(points[k]) >= 2 {
			curves = append(curves, newCurve(k, points[k]))
		}
	}
	return curves
}

// curveKey is what the points of one curve of an alloy have in common.
type curveKey struct {
	property Property
	form     Form
	source   string
	use      Use
}

func keyOf(f *Figure) curveKey { return curveKey{f.Property, f.Form, f.Source, f.Use} }

// newCurve makes a curve of points no two of which are at the same strain.
func newCurve(k curveKey, points []Point) Curve {
	slices.SortFunc(points, func(p, q Point) int { return cmp.Compare(p.Strain, q.Strain) })
	var strain, low, high []float64
	for _, p := range points {
		strain = append(strain, float64(p.Strain))
		low = append(low, p.Low)
		high = append(high, p.High)
	}
	return Curve{
		Property: k.property, Form: k.form, Source: k.source, Use: k.use,
		points: points, low: fit(strain, low), high: fit(strain, high),
	}
}

// fit panics only where strains repeat, which Read refuses.
func fit(x, y []float64) *interp.FritschButland {
	f := new(interp.FritschButland)
	if err := f.Fit(x, y); err != nil {
		panic("alloys: " + err.Error())
	}
	return f
}
