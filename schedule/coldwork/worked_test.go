package coldwork

import (
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

// hammered is a sterling bar drawn out in four courses.
func hammered() Sum {
	return Sum{Alloy: alloy("sterling"), From: bar(8, 8), To: bar(6.4, 7.2), Passes: 4, Calliper: 0.1,
		Condition: alloys.Wrought}
}

func TestReckon(t *testing.T) {
	r, err := hammered().Reckon()
	require.NoError(t, err)
	for _, c := range []struct {
		name      string
		got, want float64
		reason    string
	}{
		{"area reduction", float64(r.Reduction), 0.2800, "1 - 6.4*7.2/64"},
		{"low", float64(r.ReductionLow), 0.260, "four readings each 0.1 mm out, in quadrature"},
		{"high", float64(r.ReductionHigh), 0.300, "the same upwards"},
		{"strain", float64(r.Strain.Strain), 0.3355, "sqrt(2/3 (0.2231² + 0.1054² + 0.3285²))"},
		{"worked", float64(r.Worked), 0.2521, "1 - exp(-0.866 * 0.3355)"},
		{"limit", float64(r.Limit.Strain), 0.6903, "45 % of thickness"},
		{"spent", r.Spent, 0.486, "0.3355 of 0.6903"},
	} {
		within := 5e-5
		if c.name == "low" || c.name == "high" || c.name == "spent" {
			within = 5e-4
		}
		require.InDelta(t, c.want, c.got, within, "%s: %s", c.name, c.reason)
	}
	require.True(t, r.CoursesKnown)
	require.Equal(t, []int{3, 4, 5}, []int{r.Courses.Low, r.Courses.Likely, r.Courses.High},
		"0.0839 a course, 0.3548 to go: four, give or take one")
	require.True(t, r.Temper.Hardness.OK)
	require.Equal(t, alloys.Strip, r.Temper.Hardness.Form)
}

func TestReckonWithoutAForecast(t *testing.T) {
	unknown := hammered()
	unknown.Passes = 0
	r, err := unknown.Reckon()
	require.NoError(t, err)
	require.False(t, r.CoursesKnown, "it is not known how many courses it took")
	require.Positive(t, r.Spent)

	idle := hammered()
	idle.To = idle.From
	r, err = idle.Reckon()
	require.NoError(t, err)
	require.False(t, r.CoursesKnown, "no strain, no average to go by")
	require.Zero(t, r.Spent)

	pewter := hammered()
	pewter.Alloy = alloy("pewter")
	r, err = pewter.Reckon()
	require.NoError(t, err)
	require.False(t, r.Limit.Known())
	require.False(t, r.CoursesKnown)
	require.Zero(t, r.Spent, "nothing to spend")
	require.InDelta(t, 0.3355, float64(r.Strain.Strain), 5e-5, "it was strained all the same")
}

func TestReckonPastTheLimit(t *testing.T) {
	past := hammered()
	past.Condition = alloys.Cast
	r, err := past.Reckon()
	require.NoError(t, err)
	require.Greater(t, r.Spent, 1.0, "a casting was due at 20 % of area")
	require.Equal(t, Courses{NextCrosses: 1}, r.Courses)
}

func TestReckonRefuses(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Sum)
		want   error
		reason string
	}{
		{"a bar that grew", func(s *Sum) { s.To = bar(9, 9) }, ErrGrew, "no hammer adds metal"},
		{"a bar that became a sheet", func(s *Sum) { s.To = sheet(2) }, ErrShape, "its width is not known"},
		{"nothing measured", func(s *Sum) { s.From, s.To = Section{}, Section{} }, ErrShape, "nothing to reckon"},
		{"no such school", func(s *Sum) { s.Limit = "until it rings" }, ErrLimit, "a limit is a reduction or a school"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := hammered()
			c.change(&s)
			r, err := s.Reckon()
			require.ErrorIs(t, err, c.want, c.reason)
			require.Equal(t, Result{}, r)
		})
	}
}

func TestReckonWithAnOwnLimit(t *testing.T) {
	own := hammered()
	own.Limit = "50% area"
	r, err := own.Reckon()
	require.NoError(t, err)
	require.Equal(t, OwnSchool, r.Limit.School)
	require.InDelta(t, 0.3355/0.6931, r.Spent, 5e-4)
	require.Equal(t, unit.AreaReduction(0.5).Strain(), r.Limit.Strain)
}
