package coldwork

import (
	"math"
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

func alloy(name string) alloys.Alloy {
	a, err := alloys.Find(name)
	if err != nil {
		panic(err)
	}
	return a
}

// density is the figure the table computes with.
func density(name string) unit.Density {
	f, ok := alloy(name).Default(alloys.Density, "")
	if !ok {
		panic(name + " has no density")
	}
	return unit.Density(f.Low)
}

// taken is the area reduction between two sections, without their errors.
func taken(a, b Section) unit.AreaReduction {
	r, _, _, ok := Reduction(a, b, 0)
	if !ok {
		panic("sections that cannot be compared")
	}
	return r
}

// Facts that any smith can repeat at the bench with a rule and a calliper:
// common practice, no source.
//
// Outside check (common practice): what a smith repeats with a rule and a calliper: what a
// doubled length, a halved thickness and a bend come to.
func TestFactsOfTheBench(t *testing.T) {
	before, after := DrawnPart(76.5, 85, 0.5)
	along := Lengthened(before, after)
	spread := Between(bar(3, 9.5), bar(3*9.5/16.5, 16.5))
	twist, _ := Twist(round(6), 5, 100)
	oneTurn, _ := Twist(round(6), 1, 100)
	blank := density("sterling").Mass(1.5 * 20.5 * 200)
	for _, c := range []struct {
		name      string
		got, want float64
		within    float64
		reason    string
	}{
		{"worked half of a pewter bar before", float64(before), 38.25, 1e-9, "half of 76.5 mm"},
		{"worked half of a pewter bar after", float64(after), 46.75, 1e-9, "the other half is still 38.25 mm of the 85"},
		{"strain along the worked half", float64(along), 0.2007, 5e-5, "only half the bar took the 8.5 mm"},
		{"area of the worked half", float64(along.AreaReduction()), 0.182, 5e-4, "volume stays, so a bar that does not spread is thinner"},
		{"thickness of a widened strip", float64(spread.Worked()), 0.424, 5e-4, "blows turned for width: 9.5 to 16.5 mm with no lengthening"},
		{"section of a widened strip", float64(taken(bar(3, 9.5), bar(3*9.5/16.5, 16.5))), 0, 1e-12, "no lengthening is no loss of section"},
		{"mass of a sterling blank", float64(blank), 60, 0.07 * 60, "1.5 x 20.5 x 200 mm is about 60 g"},
		{"round rod forged square", float64(Between(round(6), square(3))), 1.14, 0.005, "6 mm round to 3 mm square: ln of the areas"},
		{"shear of a twist", float64(twist) * math.Sqrt(3), 0.94, 0.005, "6 mm rod, 5 turns in 100 mm"},
		{"strain of a twist", float64(twist), 0.54, 0.005, "shear over root three"},
		{"turns to a limit of 35 % of area", float64(unit.AreaReduction(0.35).Strain() / oneTurn), 3.96, 0.005, "where the 6 mm rod over 100 mm should be annealed"},
		{"outer fibre of a bracelet", OuterFibre(3, 30), 0.048, 5e-4, "3 mm band on 60 mm inside diameter"},
		{"strain of that bend", float64(Bend(3, 30)), 2 / math.Sqrt(3) * 0.0465, 5e-4, "wide band: ln 1.048 in plane strain"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.InDelta(t, c.want, c.got, c.within, c.reason)
		})
	}
}

// Common practice: a first limit of a fifth of the section for a casting.
//
// Outside check (common practice): a first limit of a fifth of the section for a casting.
func TestCastSterlingReachesItsFirstLimit(t *testing.T) {
	limit, err := LimitOf(alloy("sterling"), alloys.Cast, "")
	require.NoError(t, err)
	require.Less(t, Between(square(12), square(10.8)), limit.Strain, "12x12 to 10.8x10.8 is not there yet")
	require.GreaterOrEqual(t, Between(square(12), square(10.7)), limit.Strain, "12x12 to 10.7x10.7 is a fifth of the section")
	require.InDelta(t, 0.20, float64(taken(square(12), square(10.733))), 5e-4)
}

// Common practice: sterling is annealed, pewter never.
//
// Outside check (common practice): sterling is annealed, pewter never.
func TestSterlingHardensAndPewterDoesNot(t *testing.T) {
	sterling := alloy("sterling")
	soft := TemperOf(sterling, alloys.Strip, Estimate{}).Hardness
	worked := TemperOf(sterling, alloys.Strip, Estimate{Strain: 0.4}).Hardness
	require.True(t, soft.OK && worked.OK)
	require.Greater(t, worked.Low, soft.High, "harder beyond the scatter")
	limit, err := LimitOf(sterling, alloys.Wrought, "")
	require.NoError(t, err)
	require.True(t, limit.Known())
	require.False(t, sterling.SelfSoftening)

	pewter := alloy("pewter")
	require.True(t, pewter.SelfSoftening)
	require.Equal(t, Temper{}, TemperOf(pewter, alloys.Strip, Estimate{Strain: 0.4}), "no curve to rise")
	for _, c := range []alloys.Condition{alloys.Wrought, alloys.Cast} {
		limit, err := LimitOf(pewter, c, "")
		require.NoError(t, err)
		require.False(t, limit.Known())
	}
}
