package unit

import (
	"errors"
	"strconv"
	"strings"
)

// ReductionKind says what a reduction is a fraction of.
type ReductionKind uint8

// The two reductions that handbooks print. The zero kind is unknown.
const (
	Unkinded      ReductionKind = iota
	ThicknessKind               // of the thickness of rolled strip: ThicknessReduction
	AreaKind                    // of the cross-section of drawn wire: AreaReduction
)

var kinds = map[string]ReductionKind{"thickness": ThicknessKind, "area": AreaKind}

// String prints "thickness", "area" or "unknown kind".
func (k ReductionKind) String() string {
	switch k {
	case ThicknessKind:
		return "thickness"
	case AreaKind:
		return "area"
	}
	return "unknown kind"
}

// Reduction is a reduction as a person types it: a fraction above 0 and below
// 1, and what it is a fraction of.
type Reduction struct {
	Fraction float64
	Kind     ReductionKind
}

// Strain is that of the ThicknessReduction or the AreaReduction. An Unkinded
// one counts as thickness, the larger of the two, so that a forgotten kind
// calls for the anneal too early and not too late.
func (r Reduction) Strain() Strain {
	if r.Kind == AreaKind {
		return AreaReduction(r.Fraction).Strain()
	}
	return ThicknessReduction(r.Fraction).Strain()
}

// String prints the shortest text that parses back to the same reduction, such
// as "50 % of thickness".
func (r Reduction) String() string {
	return shifted(r.Fraction) + " % of " + r.Kind.String()
}

// shifted moves the decimal point of a fraction two places in its text, since
// 100*f may be another number than f in per cent.
func shifted(f float64) string {
	if !(f > 0 && f < 1) {
		return number(100*f, 1)
	}
	_, digits, _ := strings.Cut(strconv.FormatFloat(f, 'f', -1, 64), ".")
	if len(digits) < 2 {
		digits += "0"
	}
	percent := strings.TrimLeft(digits[:2], "0")
	if percent == "" {
		percent = "0"
	}
	if digits = digits[2:]; digits == "" {
		return percent
	}
	return percent + "." + digits
}

// ParseReduction reads a reduction such as 50%, 0.5, 50 % area, 50% of
// thickness or area 50%. With no kind in the text it is of the kind like. A
// number without a per-cent sign is a fraction below 1 and per cent from 1 up:
// 0.5 and 50 are both a half, and 1 is one per cent. It refuses 0 and 100 %.
func ParseReduction(s string, like ReductionKind) (Reduction, error) {
	return parse(s, func(words []string) (Reduction, error) { return readReduction(words, like) })
}

func readReduction(words []string, like ReductionKind) (Reduction, error) {
	kind, words := affix(words, kinds)
	if kind == Unkinded {
		kind = like
	}
	r, ok := only(words)
	f, plain := r.fraction()
	switch {
	case !ok || !plain:
		return Reduction{}, errors.New("expected a reduction such as 50%, 0.5, 50% thickness or 50% area")
	case !(f > 0 && f < 1):
		return Reduction{}, errors.New("expected a reduction above 0 % and below 100 %")
	case kind == Unkinded:
		return Reduction{}, errors.New("expected the word thickness or area with the reduction, such as 50% area")
	}
	return Reduction{Fraction: f, Kind: kind}, nil
}

// fraction is the number of a reading in per cent or without a unit.
func (r reading) fraction() (float64, bool) {
	v, ok := decimal(r.number, "")
	switch {
	case r.unit == "%", r.unit == "" && v >= 1:
		return decimal(r.number, "e-2")
	case r.unit == "":
		return v, ok
	}
	return 0, false
}
