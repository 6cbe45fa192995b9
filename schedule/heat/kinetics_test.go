package heat

import (
	"math"
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
)

func idOf(id string) alloys.ID { return alloys.ID(id) }

func kineticsOf(t testing.TB, name string) Kinetics {
	t.Helper()
	a, err := alloys.Find(name)
	require.NoError(t, err)
	k, ok := KineticsOf(a)
	require.True(t, ok, name)
	return k
}

func rolled(r float64) unit.Strain { return unit.ThicknessReduction(r).Strain() }

// slope is the apparent activation energy in kJ/mol between two half times, of work
// by the same strain.
func slope(t1 unit.Celsius, half1 float64, t2 unit.Celsius, half2 float64) float64 {
	return gasConstant / 1000 * math.Log(half1/half2) / (1/float64(t1.Kelvin()) - 1/float64(t2.Kelvin()))
}

// The figures of brass in the table are those that follow from the two published
// observations, starts and complete read as 10 % and 99 % softened.
//
// Outside check (handbook): the kinetics of brass from two published observations.
func TestBrassFollowsFromWhatWasObserved(t *testing.T) {
	const start, complete = 0.10, 0.99
	y := func(x float64) float64 { return math.Log(-math.Log2(1 - x)) }
	early, late := math.Log(3.0/4), math.Log(8.0/4)
	n := (early*y(start) + late*y(complete)) / (early*early + late*late)
	all := kineticsTable()["C26000"]
	require.InDelta(t, n, all[0].n, 0.05, "least squares through the three points of 33 %% worked brass at 580 °C")
	require.InDelta(t, y(complete)/late, all[1].n, 0.01, "half to end")
	require.InDelta(t, y(start)/early, all[2].n, 0.01, "start to half")

	n = all[0].n
	more := float64(rolled(0.60) / rolled(0.33))
	half := 1800 * math.Pow(more, likelyPower)
	require.InDelta(t, slope(325, half, 580, 4), all[0].energy/1000, 0.1, "the middle of 275 to 375 °C")
	slow := 3 / thetaOf(start, n)
	require.InDelta(t, slow, all[1].half, 0.01, "half soft, had it only started at 3 s")
	require.InDelta(t, slope(375, 1800/thetaOf(complete, n), 580, slow), all[1].energy/1000, 0.1, "just complete at 375 °C")
	require.EqualValues(t, 3, all[2].half)
	require.InDelta(t, slope(275, 1800/thetaOf(start, n)*math.Pow(more, mostPower), 580, 3), all[2].energy/1000, 0.1, "just started at 275 °C")
}

// The rates that Callister's Fig. 10.11 shows for 98 % rolled copper (Decker and
// Harker 1950) give the slope in the table.
//
// Outside check (handbook): rates of softening of copper, Callister, Fig. 10.11.
func TestSlopeOfCopperFromItsGraph(t *testing.T) {
	var x, y []float64
	for _, p := range [][2]float64{{135, .105}, {119, .044}, {113, .029}, {102, .0125}, {88, .0042}, {43, 3.8e-5}} {
		x, y = append(x, 1/float64(unit.Celsius(p[0]).Kelvin())), append(y, math.Log(p[1]))
	}
	_, b := stat.LinearRegression(x, y, nil, false)
	require.InDelta(t, -b*gasConstant/1000, kineticsTable()["C11000"][0].energy/1000, 0.05)
}

// Outside check (handbook): activation energies and half times of softening as printed.
func TestTableHoldsWhatWasPublished(t *testing.T) {
	energies := func(o observation) float64 { return o.energy / 1000 }
	require.Equal(t, []float64{93.7, 123}, observed("C11000", energies), "Decker and Harker 1950; Vandermeer and others 2004")
	require.Equal(t, []float64{36.8, 54.4}, observed("AG999", energies), "Salhi and others 2004")
	full := thetaOf(0.99, 1.2)
	silver := kineticsTable()["AG999"]
	require.InDelta(t, 1800/full, silver[0].half, 1, "wholly soft in 30 min at 150 °C")
	require.InDelta(t, 3600/full, silver[2].half, 1, "dead soft in an hour")
}

func TestEveryObservationIsComplete(t *testing.T) {
	require.Len(t, kineticsTable(), 3)
	for id, all := range kineticsTable() {
		a, err := alloys.Find(string(id))
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(all), 3, "a band has two ends")
		for _, o := range all {
			require.Greater(t, len(o.from), 40, "%s: a citation in words", id)
			require.Contains(t, []alloys.Confidence{"computed", "judgement"}, o.confidence, "nothing here was read outright")
			solidus, _ := a.Default(alloys.Solidus, alloys.Wrought)
			require.Less(t, float64(o.temp), solidus.Low)
			require.True(t, o.heat.holds(float64(o.temp)), "the heat of the observation lies in its extent")
		}
		k, _ := KineticsOf(a)
		require.NotEmpty(t, k.Basis())
	}
}

func TestTableRefuses(t *testing.T) {
	const head = kineticsColumns + "\n"
	for _, c := range []struct{ row, why string }{
		{"X,bound,33,580,4,115,3,33,33,580,580,computed,a,b", "the first row is the likely one"},
		{"X,likely,0,580,4,115,3,33,33,580,580,computed,a,b", "no work"},
		{"X,likely,33,580,x,115,3,33,33,580,580,computed,a,b", "no number"},
		{"X,likely,33,580,,115,3,33,33,580,580,computed,a,b", "no half time"},
		{"X,likely,33,580,4,115,3,33,33,580,580,computed,a,", "no source"},
		{"X,likely,33", "columns are missing"},
	} {
		_, err := readKinetics(head + c.row)
		require.Error(t, err, c.why)
	}
	for _, text := range []string{"", "alloy,use\n"} {
		_, err := readKinetics(text)
		require.ErrorContains(t, err, "expected the columns")
	}
}

func TestMostAlloysHaveNoKinetics(t *testing.T) {
	for _, name := range []string{"sterling", "18k yellow gold", "platinum", "tin bronze", "nickel silver", "mild steel", "C22000", "C23000", "C27000", "C28000"} {
		a, err := alloys.Find(name)
		require.NoError(t, err)
		_, ok := KineticsOf(a)
		require.False(t, ok, name)
		require.Contains(t, Unpublished(a), "prove it by bending")
	}
	_, ok := KineticsOf(alloys.Alloy{ID: "C26000", Own: true})
	require.False(t, ok, "the smith's own metal is not that of the table")
	pewter, err := alloys.Find("pewter")
	require.NoError(t, err)
	require.Contains(t, Unpublished(pewter), "not annealed")
}

func TestWithin(t *testing.T) {
	for _, c := range []struct {
		name   string
		worked float64
		temp   unit.Celsius
		want   string
		why    string
	}{
		{"brass", 0.33, 580, "", "the observation itself"},
		{"brass", 0.60, 275, "", "the other end of it"},
		{"brass", 0.5, 700, "outside the published range of 275 to 580 °C: prove it by bending", "hotter"},
		{"brass", 0.2, 500, "outside the published range of 33 to 60 % worked: prove it by bending", "less worked"},
		{"copper", 0.45, 600, "outside the published range of 58 to 98 % worked and 43 to 350 °C: prove it by bending", "both"},
		{"fine silver", 0.9, 300, "", "between its two heats"},
		{"fine silver", 0.9, 400, "outside the published range of 20 to 343 °C: prove it by bending", "hotter"},
		{"brass", 0.5, unit.Celsius(math.NaN()), "outside the published range of 275 to 580 °C: prove it by bending", "no figure is inside no range"},
	} {
		require.Equal(t, c.want, kineticsOf(t, c.name).Within(rolled(c.worked), c.temp), c.why)
	}
	require.Equal(t, "outside of anything published: prove it by bending", Kinetics{}.Within(1, 500), "nothing is inside no range")
}
