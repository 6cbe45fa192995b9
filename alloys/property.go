package alloys

import (
	"math"
	"slices"
)

// spec is what the reader knows of a property.
type spec struct {
	property Property
	units    []string
	min, max float64 // outside these a value is a slip of the pen
	scalar   bool    // one default for each condition, whatever the form
	trend    int     // with more reduction: +1 rises, -1 falls, 0 has no curve
	ofSolder bool    // what is told of a solder
}

// specs stand in the order of the tables.
var specs = []spec{
	{property: Density, units: []string{"g/cm3"}, min: 0.5, max: 25, scalar: true},
	{property: Solidus, units: []string{"C"}, min: -100, max: 4000, scalar: true, ofSolder: true},
	{property: Liquidus, units: []string{"C"}, min: -100, max: 4000, scalar: true, ofSolder: true},
	{property: SpecificHeat, units: []string{"J/kgK"}, min: 50, max: 5000, scalar: true},
	{property: Conductivity, units: []string{"W/mK"}, min: 1, max: 500, scalar: true},
	{property: Emissivity, units: []string{"-"}, min: 0.001, max: 1, scalar: true},
	{property: Hardness, units: []string{"HV"}, min: 1, max: 3000, trend: +1},
	{property: HardnessHRB, units: []string{"HRB"}, min: 0, max: 130, trend: +1},
	{property: HardnessHB, units: []string{"HB"}, min: 1, max: 1000, trend: +1},
	{property: Tensile, units: []string{"MPa"}, min: 1, max: 5000, trend: +1},
	{property: Yield, units: []string{"MPa"}, min: 1, max: 5000, trend: +1},
	{property: Elongation, units: []string{"pct"}, min: 0, max: 200, trend: -1},
	{property: Limit, units: []string{PctThickness, PctArea, PctLength, Courses}, min: 1, max: 99, scalar: true},
	{property: LeastWork, units: []string{PctThickness, PctArea}, min: 1, max: 99, scalar: true},
	{property: Anneal, units: []string{"C"}, min: 20, max: 2000, scalar: true},
	{property: SoakTime, units: []string{"min"}, min: 0.1, max: 600, scalar: true},
	{property: Coarsens, units: []string{"C"}, min: 20, max: 2000, scalar: true},
	{property: HotShort, units: []string{"C"}, min: 20, max: 2000, scalar: true},
	{property: Ordering, units: []string{"C"}, min: 20, max: 2000, scalar: true},
	{property: Age, units: []string{"C"}, min: 20, max: 1000, scalar: true},
	{property: AgeTime, units: []string{"min"}, min: 1, max: 6000, scalar: true},
	{property: Flow, units: []string{"C"}, min: -100, max: 4000, scalar: true, ofSolder: true},
}

func specOf(p Property) spec {
	if i := slices.IndexFunc(specs, func(s spec) bool { return s.property == p }); i >= 0 {
		return specs[i]
	}
	return spec{}
}

// properties are those of specs, in that order.
var properties = func() (all []Property) {
	for _, s := range specs {
		all = append(all, s.property)
	}
	return all
}()

// within says whether both ends of a figure lie in the range of its property.
func (s spec) within(f *Figure) bool {
	return f.Low >= s.min && f.High <= s.max &&
		(f.Unit != Courses || f.Low == math.Trunc(f.Low) && f.High == math.Trunc(f.High))
}

// against says whether q, more worked than p, goes against the trend.
func (s spec) against(p, q *Figure) bool {
	low, high := float64(s.trend)*(q.Low-p.Low), float64(s.trend)*(q.High-p.High)
	return low < 0 || high < 0
}

// sharesDefault says whether two figures of one property and condition are both
// the default of the same thing: of the condition, or where the form matters of
// one form at one place.
func (s spec) sharesDefault(f, g *Figure) bool {
	if f.Use != UseDefault || g.Use != UseDefault {
		return false
	}
	return s.scalar || f.Form == g.Form && f.HasAt == g.HasAt && f.At == g.At
}
