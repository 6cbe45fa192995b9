package coldwork

import (
	"math"
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/internal/published"

	"github.com/stretchr/testify/require"
)

// computed are the worked examples that the project computes, each with the
// reason why it does. Percentages come out in per cent.
var computed = []struct {
	id, reason string
	compute    func() []float64
	decimals   int // to which the alloy table prints the answer; 0 is as exact as the row
}{
	{"S01", "the strain of every hammered bar", func() []float64 { return list(Between(bar(3, 10), bar(2, 10.5))) }, 0},
	{"S02", "volume is constant, so the loss of section is the lengthening", func() []float64 {
		return list(taken(bar(3, 10), bar(2, 10.5)).Strain())
	}, 0},
	{"S03", "a limit in per cent of thickness", func() []float64 { return list(unit.ThicknessReduction(0.20).Strain()) }, 0},
	{"S04", "a sheet through the mill", func() []float64 { return list(Between(sheet(1), sheet(0.5))) }, 0},
	{"S06", "a hole of the drawplate", func() []float64 { return list(Between(round(3), round(2.5))) }, 0},
	{"S07", "a bar drawn out", func() []float64 { return lengthened(1, 2) }, 0},
	{"S08", "a bar stove in", func() []float64 { return lengthened(2, 1) }, 0},
	{"S09", "strain depends on the ratio of diameters, in inches as in mm", func() []float64 {
		return list(Between(round(0.505), round(0.425)))
	}, 0},
	{"S10", "limits in per cent longer", func() []float64 { return list(longer(Between(round(0.505), round(0.425)))) }, 0},
	{"S12", "strain from the length of a drawn part", func() []float64 { return list(Lengthened(40, 60)) }, 0},
	{"S14", "reductions of a chain of passes do not add up", func() []float64 {
		return list(percent(taken(sheet(10), sheet(5))), percent(taken(sheet(5), sheet(1.6))), percent(taken(sheet(10), sheet(1.6))))
	}, 0},
	{"S16", "cold work of a round bar is by area", func() []float64 {
		return list(percent(taken(round(2), round(1.5))), percent(taken(round(2), round(1))))
	}, 0},
	{"S17", "as S16", func() []float64 { return list(percent(taken(round(15.2), round(12.2)))) }, 0},
	{"S19", "as S16", func() []float64 { return list(percent(taken(round(6.4), round(5.1)))) }, 0},
	{"S22", "shown with brass as a reduction that nobody may choose", func() []float64 { return list(school("C26000", "cracking-65").Low) }, 0},
	{"S23", "a twisted rod", func() []float64 {
		_, high := Twist(round(5), 1, 100)
		return list(high*unit.Strain(math.Sqrt(3)), high)
	}, 0},
	{"S24", "a bent band", func() []float64 { return list(OuterFibre(2, 9)) }, 0},
	{"S30", "sizes by gauge", func() []float64 { return list(unit.Gauge(36).Diameter(), unit.Gauge(-3).Diameter()) }, 0},
	{"S31", "sizes by gauge", func() []float64 {
		return list(unit.Gauge(18).Diameter(), unit.Gauge(20).Diameter(), unit.Gauge(24).Diameter())
	}, 0},
	{"S33", "tempers are numbers of the gauge", func() []float64 { return tempers(1, 2, 4, 6, 8, 10) }, 0},
	{"S34", "and agree with what the trade prints", func() []float64 { return tempers(1, 2, 3, 4, 6, 8, 10) }, 0},
	{"S36", "per cent longer, in both directions", func() []float64 {
		return list(100*longer(Lengthened(0.100, 0.18)), 100*longer(Lengthened(0.100, 0.08)))
	}, 0},
	{"H13", "brass strip, a quarter hard", func() []float64 { return brassStrip(0.11) }, 0},
	{"H14", "half hard", func() []float64 { return brassStrip(0.21) }, 0},
	{"H15", "hard", func() []float64 { return brassStrip(0.37) }, 0},
	{"M01", "masses are read in these units", func() []float64 { return list(mass("1 ozt"), mass("1 dwt"), mass("1 oz"), mass("1 gr")) }, 0},
	{"M09", "carried as the second density of sterling", func() []float64 { return list(mixed("sterling").Low) }, 3},
	{"M10", "mass of a sheet from its size", func() []float64 { return list(density("fine silver").Mass(100 * 50 * 1)) }, 0},
	{"M11", "length of wire from its mass", func() []float64 {
		area, _ := round(1).Area()
		return list(10 / density("sterling").Mass(unit.CubicMillimetre(area)))
	}, 0},
	{"M16", "length of wire that closes to a finger ring", func() []float64 { return list(ring(17.3, 1, 1).BlankLength()) }, 0},
	{"M17", "length of bar that closes to a bangle", func() []float64 { return list(ring(62, 3, 8).BlankLength()) }, 0},
}

func list[T ~float64](values ...T) (out []float64) {
	for _, v := range values {
		out = append(out, float64(v))
	}
	return out
}

func percent(r unit.AreaReduction) float64 { return 100 * float64(r) }

// longer is the fraction of the old length that a strain along it adds.
func longer(s unit.Strain) float64 {
	r := float64(s.AreaReduction())
	return r / (1 - r)
}

func lengthened(from, to unit.Millimetre) []float64 {
	along := Lengthened(from, to)
	return list(longer(along), float64(along), float64(along.AreaReduction()))
}

func tempers(numbers ...int) (out []float64) {
	for _, n := range numbers {
		strip, _ := alloys.Temper(n)
		out = append(out, 100*float64(strip))
	}
	return out
}

// brassStrip is tensile and yield strength (ksi) and elongation (%) off the
// curves of C26000 strip.
func brassStrip(r unit.ThicknessReduction) []float64 {
	const ksi = 6.894757 // MPa
	at := func(p alloys.Property) float64 {
		c, _ := alloy("C26000").Curve(p, alloys.Strip)
		low, _, _ := c.At(r.Strain())
		return low
	}
	return list(at(alloys.Tensile)/ksi, at(alloys.Yield)/ksi, at(alloys.Elongation))
}

// mixed is a density that the table carries as computed from the parts.
func mixed(name string) alloys.Figure {
	for _, f := range alloy(name).Figures(alloys.Density) {
		if f.Confidence == alloys.ConfidenceComputed {
			return f
		}
	}
	panic(name + " has no computed density")
}

// school is a limit of the table by its name, whatever its use.
func school(name, school string) alloys.Figure {
	for _, f := range alloy(name).Figures(alloys.Limit) {
		if f.School == school {
			return f
		}
	}
	panic(name + " has no school " + school)
}

func mass(text string) unit.Gram {
	g, err := unit.ParseMass(text)
	if err != nil {
		panic(err)
	}
	return g
}

// Outside check (worked example): strain, reduction, gauges, hardening and mass: the rows of
// testdata/worked_examples.csv, in the table below.
func TestWorkedExamples(t *testing.T) {
	rows := published.Rows(t, workedExamples)
	for _, c := range computed {
		row, ok := rows[c.id]
		require.True(t, ok, "%s is not a worked example", c.id)
		t.Run(c.id+" "+row.Inputs, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.NotEmpty(t, row.Source)
			want, within := row.Figures(t)
			got := c.compute()
			require.Len(t, got, len(want))
			for i := range want {
				if c.decimals > 0 {
					p := math.Pow10(c.decimals)
					want[i] = math.Round(want[i]*p) / p
				}
				require.InDelta(t, want[i], got[i], within[i], "%s: %s", row.Source, c.reason)
			}
		})
	}
}
