package coldwork

import (
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

// property is one band of a temper, in the unit and with the sign that the
// table has it.
type property struct {
	name  alloys.Property
	of    func(Temper) Band
	scale float64 // from the table's unit
	rises bool
}

var properties = []property{
	{alloys.Hardness, func(t Temper) Band { return t.Hardness }, 1, true},
	{alloys.Tensile, func(t Temper) Band { return t.Tensile }, 1, true},
	{alloys.Elongation, func(t Temper) Band { return t.Elongation }, 0.01, false},
}

// eachCurve visits every published curve that tempers are read from.
func eachCurve(visit func(a alloys.Alloy, p property, c alloys.Curve)) {
	for _, a := range alloys.All() {
		for _, p := range properties {
			for _, form := range []alloys.Form{alloys.Strip, alloys.Wire} {
				if c, ok := a.Curve(p.name, form); ok {
					visit(a, p, c)
				}
			}
		}
	}
}

// Outside check (handbook): temper of the work done, at the published points of its curve.
func TestTemperPassesThroughThePublishedPoints(t *testing.T) {
	points := 0
	eachCurve(func(a alloys.Alloy, p property, c alloys.Curve) {
		for _, f := range a.Figures(p.name) {
			if f.Form != c.Form || f.Source != c.Source || f.Use != alloys.UseDefault || !f.HasAt || f.Bound != alloys.BothEnds {
				continue
			}
			at := unit.ThicknessReduction(f.At / 100).Strain()
			if f.AtKind == alloys.PctArea {
				at = unit.AreaReduction(f.At / 100).Strain()
			}
			band := p.of(TemperOf(a, c.Form, Estimate{Strain: at}))
			require.True(t, band.OK, "%s %s at %g %%", a.Name, p.name, f.At)
			require.InDelta(t, f.Low*p.scale, band.Low, 1e-6, "%s %s at %g %%", a.Name, p.name, f.At)
			require.InDelta(t, f.High*p.scale, band.High, 1e-6, "%s %s at %g %%", a.Name, p.name, f.At)
			require.Equal(t, c.Source, band.Source)
			require.Equal(t, c.Form, band.Form)
			points++
		}
	})
	require.Greater(t, points, 50, "the tables have been read")
}

func TestTemperGoesOneWayBetweenThePoints(t *testing.T) {
	const steps = 200
	eachCurve(func(a alloys.Alloy, p property, c alloys.Curve) {
		points := c.Points()
		from, to := points[0].Strain, points[len(points)-1].Strain
		before := p.of(TemperOf(a, c.Form, Estimate{Strain: from}))
		for i := 1; i <= steps; i++ {
			now := p.of(TemperOf(a, c.Form, Estimate{Strain: from + (to-from)*unit.Strain(i)/steps}))
			require.True(t, now.OK)
			require.LessOrEqual(t, now.Low, now.High)
			less, more := before, now
			if !p.rises {
				less, more = now, before
			}
			require.LessOrEqual(t, less.Low, more.Low+1e-9, "%s %s %s", a.Name, c.Form, p.name)
			require.LessOrEqual(t, less.High, more.High+1e-9, "%s %s %s", a.Name, c.Form, p.name)
			before = now
		}
	})
}

func TestTemperIsSilentBeyondThePoints(t *testing.T) {
	eachCurve(func(a alloys.Alloy, p property, c alloys.Curve) {
		points := c.Points()
		beyond := []unit.Strain{points[len(points)-1].Strain + 1e-6, 10}
		if points[0].Strain > 0 {
			beyond = append(beyond, 0, points[0].Strain-1e-6)
		}
		for _, s := range beyond {
			require.Equal(t, Band{}, p.of(TemperOf(a, c.Form, Estimate{Strain: s})), "%s %s %s at %v", a.Name, c.Form, p.name, s)
		}
	})
}

func TestTemperIsWidenedByTheErrorOfTheWork(t *testing.T) {
	sterling := alloy("sterling")
	at := func(s, sigma unit.Strain) Band {
		return TemperOf(sterling, alloys.Strip, Estimate{s, sigma}).Hardness
	}
	require.InDelta(t, at(0.2, 0).Low, at(0.3, 0.1).Low, 1e-9, "as soft as with one error less work")
	require.InDelta(t, at(0.4, 0).High, at(0.3, 0.1).High, 1e-9, "as hard as with one error more")
	end := unit.ThicknessReduction(0.37).Strain()
	require.Equal(t, at(end, 0).High, at(end, 0.1).High, "no further than the curve reaches")
}

func TestStripAndWireAreNeverMixed(t *testing.T) {
	for _, c := range []struct {
		section Section
		want    alloys.Form
		reason  string
	}{
		{round(3), alloys.Wire, "drawn wire"},
		{bar(8, 8), alloys.Strip, "hammered bar is nearer to rolled strip"},
		{square(8), alloys.Strip, "square bar too"},
		{sheet(1.2), alloys.Strip, "sheet"},
		{tube(12, 1), alloys.Strip, "a tube is a rolled wall"},
		{ring(62, 3, 8), alloys.Strip, "a closed band"},
	} {
		require.Equal(t, c.want, FormOf(c.section), c.reason)
	}
	sterling := alloy("sterling")
	same := Estimate{Strain: unit.AreaReduction(0.37).Strain()}
	strip, wire := TemperOf(sterling, alloys.Strip, same).Hardness, TemperOf(sterling, alloys.Wire, same).Hardness
	require.InDelta(t, 95, wire.High, 1e-6, "half hard wire as printed")
	require.Greater(t, strip.Low, wire.High, "strip with the same strain is harder")
	more := Estimate{Strain: unit.AreaReduction(0.60).Strain()}
	require.True(t, TemperOf(sterling, alloys.Wire, more).Hardness.OK)
	require.False(t, TemperOf(sterling, alloys.Strip, more).Hardness.OK, "wire does not speak for strip past its end")
}

func TestTemperIsAbsentWhereNothingIsPublished(t *testing.T) {
	for _, name := range []string{"brass", "bronze", "copper", "pewter"} {
		for _, form := range []alloys.Form{alloys.Strip, alloys.Wire} {
			temper := TemperOf(alloy(name), form, Estimate{Strain: 0.3})
			require.Equal(t, Band{}, temper.Hardness, "%s %s: no series of HV against reduction", name, form)
		}
	}
	require.Equal(t, Temper{}, TemperOf(alloys.Alloy{}, alloys.Strip, Estimate{Strain: 0.3}), "no alloy, no figure")
}
