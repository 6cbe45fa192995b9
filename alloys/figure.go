package alloys

import (
	"slices"

	"dullred/alloys/unit"
)

// Property says what a figure measures.
type Property string

// The properties, in the order of the tables, with their units.
const (
	Density      Property = "density"       // g/cm3
	Solidus      Property = "solidus"       // °C: it starts to melt
	Liquidus     Property = "liquidus"      // °C: it is wholly molten
	SpecificHeat Property = "specific_heat" // J/kgK, solid
	Conductivity Property = "conductivity"  // of heat, W/mK
	Emissivity   Property = "emissivity"    // 0 to 1, of the surface that the condition names: clean, oxidised, fluxed
	Hardness     Property = "hardness"      // Vickers, HV
	HardnessHRB  Property = "hardness_hrb"  // Rockwell B: shown, never converted
	HardnessHB   Property = "hardness_hb"   // Brinell: shown, never converted
	Tensile      Property = "tensile"       // MPa
	Yield        Property = "yield"         // MPa
	Elongation   Property = "elongation"    // per cent
	Limit        Property = "limit"         // most reduction between anneals; see Figure.Unit
	LeastWork    Property = "least_work"    // least reduction before an anneal: no limit, and never read as one
	Anneal       Property = "anneal"        // °C: the window to heat to
	SoakTime     Property = "soak_time"     // min: how long its source holds it at that heat
	Coarsens     Property = "coarsens"      // °C: from here on the grain grows; shown only
	HotShort     Property = "hot_short"     // °C: from Low on it must not be struck or bent; to High where it ends, else Bound is AtLeast
	Ordering     Property = "ordering"      // °C: below here it hardens if it cools slowly, so quench it from above
	Age          Property = "age"           // °C: hardened by being kept here; only after a quench
	AgeTime      Property = "age_time"      // minutes at that heat
	Flow         Property = "flow"          // °C: a solder runs into the joint; of solders only
)

// Form is the form of the metal that was measured; empty where the source does
// not say or the form does not matter.
type Form string

// The forms.
const (
	Strip    Form = "strip" // rolled strip and sheet
	Wire     Form = "wire"  // drawn wire
	Bar      Form = "bar"
	CastForm Form = "cast"
	Hand     Form = "hand" // worked with the hammer
)

// Condition is the state of the metal that was measured: one of the constants,
// or a temper such as "H04", "EN 1652 R290" or "aged".
type Condition string

// The conditions that are asked for by name.
const (
	Wrought  Condition = "wrought"
	Cast     Condition = "cast"
	Annealed Condition = "annealed"
)

// The conditions of an emissivity: what the skin of the piece is. There are no
// others, since heat and glow are reckoned with them by name.
const (
	SkinClean    Condition = "clean"
	SkinOxidised Condition = "oxidised"
	SkinFluxed   Condition = "fluxed" // under molten flux, which is glass: the metal's own glow shows through it
)

// Skins are the conditions that an emissivity may have.
func Skins() []Condition { return []Condition{SkinClean, SkinOxidised, SkinFluxed} }

// Use says what a row may be used for.
type Use string

// The uses of a row.
const (
	UseDefault Use = "default" // computed with
	UseAlso    Use = "also"    // shown beside the default; for limits a school to choose
	UseNever   Use = "never"   // shown with its reason, never computed with
)

// order is the place of a use among rows: defaults first.
func (u Use) order() int { return slices.Index([]Use{UseDefault, UseAlso, UseNever}, u) }

// Confidence says how well a row is known.
type Confidence string

// The confidences, best first.
const (
	ConfidenceRead      Confidence = "read"      // read in the source named
	ConfidenceComputed  Confidence = "computed"  // arithmetic on figures that were read
	ConfidenceMemory    Confidence = "memory"    // recalled, not confirmed
	ConfidenceJudgement Confidence = "judgement" // chosen with care, published nowhere
	ConfidencePractice  Confidence = "practice"  // common practice at the bench
)

// Bound says that only one end of a figure is published. Such a figure has
// Low equal to High, is shown as "at least" or "at most", and is no point of a
// curve.
type Bound string

// The bounds. The zero Bound means that both ends are published.
const (
	BothEnds Bound = ""
	AtLeast  Bound = "min"
	AtMost   Bound = "max"
)

// AtKind says along which axis a figure is placed: PctThickness or PctArea.
type AtKind string

// The kinds of reduction. The first two are places on the reduction axis; all
// four are units of a limit, the first two of the least work too.
const (
	PctThickness = "pct_thickness" // per cent of the thickness taken off
	PctArea      = "pct_area"      // per cent of the section taken off
	PctLength    = "pct_length"    // per cent longer than before
	Courses      = "courses"       // full rounds of blows over a vessel
)

// Figure is one published figure: a value or, where Low and High differ, the
// range that is printed.
type Figure struct {
	Alloy      ID // of an alloy or of a solder
	Property   Property
	Form       Form
	Condition  Condition
	School     string  // short selectable name, limits only
	At         float64 // place on the reduction axis in per cent, 0 to below 100; only if HasAt
	AtKind     AtKind
	HasAt      bool
	Low, High  float64 // finite, Low <= High, in Unit
	Bound      Bound
	Unit       string
	Use        Use
	Source     string // key of a Source
	Confidence Confidence
	Note       string
}

// LimitStrain is the equivalent strain of the low end of a limit. A reduction
// of thickness counts as rolling without spread, a reduction of area as
// drawing, and r longer as drawing by 1-1/(1+r) of the area, since the volume
// stays. It is false for courses, which have no strain, and for any other
// property, the least work among them.
func (f Figure) LimitStrain() (unit.Strain, bool) {
	if f.Property != Limit {
		return 0, false
	}
	return f.lowStrain()
}

// LeastStrain is the equivalent strain of the low end of the least work before
// an anneal, counted as LimitStrain counts. It is false for any other property.
func (f Figure) LeastStrain() (unit.Strain, bool) {
	if f.Property != LeastWork {
		return 0, false
	}
	return f.lowStrain()
}

// lowStrain is the equivalent strain of the low end, a reduction in some unit.
func (f Figure) lowStrain() (unit.Strain, bool) {
	r := f.Low / 100
	switch f.Unit {
	case PctThickness:
		return unit.ThicknessReduction(r).Strain(), true
	case PctArea:
		return unit.AreaReduction(r).Strain(), true
	case PctLength:
		return unit.AreaReduction(1 - 1/(1+r)).Strain(), true
	}
	return 0, false
}

// place is the equivalent strain at which the figure stands on its axis.
func (f *Figure) place() unit.Strain {
	if f.AtKind == PctArea {
		return unit.AreaReduction(f.At / 100).Strain()
	}
	return unit.ThicknessReduction(f.At / 100).Strain()
}

// onCurve says whether the figure is a point of a curve.
func (f *Figure) onCurve() bool {
	return f.HasAt && f.Bound == BothEnds && f.Use != UseNever
}
