package coldwork

import (
	"testing"

	"dullred/alloys"

	"github.com/stretchr/testify/require"
)

func TestLimitOf(t *testing.T) {
	for _, c := range []struct {
		name      string
		alloy     string
		condition alloys.Condition
		choice    string
		strain    float64
		school    string
		text      string
		reason    string
	}{
		{"fine silver", "fine silver", alloys.Wrought, "", 0.6903, "cautious-45", "45 % of thickness", "2/√3 ln(1/0.55)"},
		{"fine silver cast", "fine silver", alloys.Cast, "", 0.2231, "first-20", "20 % of area", "ln(1/0.8)"},
		{"sterling", "sterling", alloys.Wrought, "", 0.6903, "compress-45", "45 % of thickness", "2/√3 ln(1/0.55)"},
		{"sterling cast", "sterling", alloys.Cast, "", 0.2231, "first-20", "20 % of area", "ln(1/0.8)"},
		{"copper", "copper", alloys.Wrought, "", 0.6903, "cautious-45", "45 % of thickness", "as sterling"},
		{"copper cast", "copper", alloys.Cast, "", 0.2231, "first-20", "20 % of area", "as silver"},
		{"brass", "brass", alloys.Wrought, "", 0.5899, "cautious-40", "40 % of thickness", "2/√3 ln(1/0.6)"},
		{"brass cast", "brass", alloys.Cast, "", 0.2231, "first-20", "20 % of area", "as silver"},
		{"bronze", "bronze", alloys.Wrought, "", 0.3322, "cautious-25", "25 % of thickness", "2/√3 ln(1/0.75)"},
		{"bronze cast", "bronze", alloys.Cast, "", 0.1054, "first-10", "10 % of area", "half of silver's: ln(1/0.9)"},
		{"pewter", "pewter", alloys.Wrought, "", 0, "", "", "it is never annealed"},
		{"pewter cast", "pewter", alloys.Cast, "", 0, "", "", "it is never annealed"},

		{"own", "sterling", alloys.Wrought, "50%", 0.8004, OwnSchool, "50 % of thickness", "of the kind of the table's: 2/√3 ln 2"},
		{"own on a casting", "sterling", alloys.Cast, "50%", 0.6931, OwnSchool, "50 % of area", "of the kind of the table's: ln 2"},
		{"own of area", "sterling", alloys.Wrought, " 30% area ", 0.3567, OwnSchool, "30 % of area", "ln(1/0.7)"},
		{"own where none is published", "pewter", alloys.Wrought, "50%", 0.8004, OwnSchool, "50 % of thickness", "a reduction needs no table"},

		{"half first", "sterling", alloys.Cast, "half-first", 0.8004, "half-first", "50 % of thickness", "a school of castings"},
		{"half the section", "sterling", alloys.Wrought, "half-section", 0.6931, "half-section", "50 % of area", "ln 2"},
		{"a third longer", "sterling", alloys.Wrought, "Third-Longer", 0.2624, "third-longer", "30 % longer", "any case; ln 1.3, 23 % of area"},
		{"the default by name", "sterling", alloys.Wrought, "compress-45", 0.6903, "compress-45", "45 % of thickness", "as when nothing is chosen"},
		{"fine wire", "fine silver", alloys.Wrought, "wire-90", 2.3026, "wire-90", "90 % of area", "ln 10"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			limit, err := LimitOf(alloy(c.alloy), c.condition, c.choice)
			require.NoError(t, err)
			require.InDelta(t, c.strain, float64(limit.Strain), 5e-5, c.reason)
			require.Equal(t, c.strain > 0, limit.Known())
			require.Equal(t, c.school, limit.School)
			require.Equal(t, c.text, limit.Text)
		})
	}
	longer, err := LimitOf(alloy("sterling"), alloys.Wrought, "third-longer")
	require.NoError(t, err)
	require.InDelta(t, 0.23, float64(longer.Strain.AreaReduction()), 0.005, "30 % longer is 23 % of the section")
}

func TestLimitOfRefuses(t *testing.T) {
	for _, c := range []struct {
		name      string
		alloy     string
		condition alloys.Condition
		choice    string
		says      string
		reason    string
	}{
		{"a count of courses", "sterling", alloys.Wrought, "every-course", "counts courses, not strain", "it cannot be summed"},
		{"a range of courses", "sterling", alloys.Wrought, "every-2-3-courses", "counts courses, not strain", "it cannot be summed"},
		{"copper's courses", "copper", alloys.Wrought, "every-course", "counts courses, not strain", "it cannot be summed"},
		{"nonsense", "sterling", alloys.Wrought, "until it rings",
			`"until it rings" is not a limit for sterling silver: expected a reduction such as 50% or one of the schools not-over-half, half-section, third-longer`,
			"the schools that can be chosen are named"},
		{"nonsense on a casting", "sterling", alloys.Cast, "until it rings", "one of the schools half-first", "those of the condition"},
		{"nonsense on pewter", "pewter", alloys.Wrought, "half-section", "expected a reduction such as 50% or 50% area", "it has no schools"},
		{"another condition's school", "sterling", alloys.Wrought, "half-first", "not a limit", "half first is for castings"},
		{"everything", "sterling", alloys.Wrought, "100%", "not a limit", "nothing would be left"},
		{"industrial rolling", "copper", alloys.Wrought, "industrial-95", "not a limit", "no measure of the hand hammer"},
		{"the cracking point", "brass", alloys.Wrought, "cracking-65", "not a limit", "a metal that cracks is no working metal"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			limit, err := LimitOf(alloy(c.alloy), c.condition, c.choice)
			require.ErrorIs(t, err, ErrLimit, c.reason)
			require.ErrorContains(t, err, c.says)
			require.False(t, limit.Known())
		})
	}
}

func TestWhatIsNeverToBeUsedCannotBeChosen(t *testing.T) {
	var never []float64
	for _, a := range alloys.All() {
		for _, f := range a.Figures(alloys.Limit) {
			if f.Use != alloys.UseNever {
				continue
			}
			never = append(never, f.Low)
			for _, c := range []alloys.Condition{alloys.Wrought, alloys.Cast} {
				_, err := LimitOf(a, c, f.School)
				require.ErrorIs(t, err, ErrLimit, "%s %s", a.Name, f.School)
			}
		}
	}
	require.Equal(t, []float64{95, 65}, never, "the industrial and the cracking reduction")
}

func TestJudgementIsNeverAboveSterling(t *testing.T) {
	judged := 0
	for _, c := range []alloys.Condition{alloys.Wrought, alloys.Cast} {
		sterling, err := LimitOf(alloy("sterling"), c, "")
		require.NoError(t, err)
		require.NotEqual(t, alloys.ConfidenceJudgement, sterling.Confidence)
		for _, a := range alloys.All() {
			limit, err := LimitOf(a, c, "")
			require.NoError(t, err)
			if limit.Confidence == alloys.ConfidenceJudgement {
				judged++
				require.LessOrEqual(t, limit.Strain, sterling.Strain, "%s %s", c, a.Name)
			}
		}
	}
	require.Positive(t, judged)
}
