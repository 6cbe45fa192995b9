package coldwork

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

func courseAt(thick unit.Millimetre, strain unit.Strain) Course {
	return Course{Hand: "a", Alloy: "AG925", Process: Lengthen, Count: 1, Strain: strain,
		Section: Section{Shape: unit.Rectangular, Thick: thick, Width: thick}}
}

// The same blows move thin bar more: what was learned at one thickness is only a
// hint at another.
func TestAHandIsLearnedBySection(t *testing.T) {
	var courses []Course
	for range 12 {
		courses = append(courses, courseAt(12, 0.06))
	}
	at := func(thick unit.Millimetre) At {
		return At{Hand: "a", Alloy: "AG925", Process: Lengthen, Section: Section{Shape: unit.Rectangular, Thick: thick, Width: thick}}
	}
	thick, thin, sheet := Learned(at(11), courses), Learned(at(4), courses), Learned(At{Hand: "a", Alloy: "AG925",
		Process: Lengthen, Section: Section{Shape: unit.Sheet, Thick: 11}}, courses)
	require.InEpsilon(t, float64(Effort(0.06)), float64(thick.PerCourse()), 0.1)
	low, high := thick.Range()
	thinLow, thinHigh := thin.Range()
	require.Greater(t, thinHigh/thinLow, high/low, "of thin bar it is less sure")
	require.Less(t, thin.PerCourse(), Prior(Lengthen).PerCourse(), "but a light hand is one there too")
	require.Equal(t, thin, sheet, "sheet is not worked as bar")
	require.Equal(t, 12, thin.Seen(), "that is what it was learned from")

	for range 6 {
		courses = append(courses, courseAt(4, 0.2))
	}
	require.InEpsilon(t, float64(Effort(0.2)), float64(Learned(at(4), courses).PerCourse()), 0.2, "own measurements overrule the hint")
	require.InEpsilon(t, float64(thick.PerCourse()), float64(Learned(at(11), courses).PerCourse()), 0.2)
	any := Learned(At{Hand: "a", Alloy: "AG925", Process: Lengthen}, courses)
	require.Equal(t, 18, any.Seen(), "without a section all counts alike")
	require.True(t, any.PerCourse() > thick.PerCourse() && any.PerCourse() < 0.2)
}
