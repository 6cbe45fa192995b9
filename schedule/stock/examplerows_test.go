package stock

import (
	"maps"
	"slices"
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/internal/published"

	"github.com/stretchr/testify/require"
)

// readMassRows reads the worked examples about mass.
func readMassRows(t *testing.T) map[string]published.Row {
	t.Helper()
	rows := published.Rows(t, "worked_examples.csv")
	maps.DeleteFunc(rows, func(_ string, r published.Row) bool { return r.Area != "mass" })
	return rows
}

// massRows are the rows that are computed here, each with the reason why.
var massRows = []struct {
	id, reason string
	compute    func(*testing.T) []float64
}{
	{"M01", "masses are shown in these units", func(t *testing.T) []float64 { return weights(t, "ozt", "dwt", "oz", "gr") }},
	{"M03", "masses are shown in the Norse units, and they are published in grains", func(t *testing.T) []float64 {
		return weights(t, "ora", "mark", "ertog")
	}},
	{"M08", "masses are shown in these units too", func(t *testing.T) []float64 { return weights(t, "mithqal", "dirham") }},
	{"M09", "the low end of the density of sterling", func(t *testing.T) []float64 {
		m, err := alloys.Mix([]alloys.Part{{Mass: 1, Of: alloys.Shares{alloys.Silver: 0.925, alloys.Copper: 0.075}}})
		require.NoError(t, err)
		return []float64{float64(m.Density)}
	}},
	{"M10", "mass of a finished sheet", func(t *testing.T) []float64 {
		silver, err := alloys.Find("fine silver")
		require.NoError(t, err)
		d, _ := DensityOf(silver)
		return []float64{float64(Job{Volume: mustShape(t, "0:50x1 100:50x1").Volume(), Density: d}.Finished())}
	}},
	{"M11", "a bar or wire from a mass in hand", func(t *testing.T) []float64 {
		e, err := Job{Volume: 1, Density: Spread{10.36, 10.36, 10.36}, Bar: Section{Round, 1, 1}}.Backward(10)
		require.NoError(t, err)
		return []float64{float64(e.Length)}
	}},
	{"M13", "a bar that tapers both ways, and what the mean of its ends would give", func(t *testing.T) []float64 {
		s := mustShape(t, "0:6x4 80:3x2")
		ends := s.At(0).Area() + s.At(80).Area()
		return []float64{float64(s.Volume()), float64(ends) / 2 * float64(s.Length())}
	}},
	{"M15", "a round frustum", func(t *testing.T) []float64 {
		return []float64{float64(mustShape(t, "0:10 round 20:6 round").Volume())}
	}},
	{"M16", "blank of a finger ring", func(*testing.T) []float64 { return []float64{float64(Ring{Inside: 17.3, Thick: 1}.Blank())} }},
	{"M17", "blank of a bangle", func(*testing.T) []float64 { return []float64{float64(Ring{Inside: 62, Thick: 3}.Blank())} }},
	{"M18", "losses one after the other", func(t *testing.T) []float64 {
		m, err := Job{Volume: 2000, Density: Spread{10, 10, 10}, Losses: []Loss{NewLoss(Filing, 0.05), NewLoss(Melt, 0.08)}}.Forward()
		require.NoError(t, err)
		return []float64{float64(m.Cast)}
	}},
}

// massRanges are the rows that are a published range: M06 and M19, tested by name.
var massRanges = []string{"M06", "M19"}

func weights(t *testing.T, names ...string) (all []float64) {
	t.Helper()
	for _, name := range names {
		w, err := ParseWeight(name)
		require.NoError(t, err)
		require.Equal(t, w.Low, w.High, "one value")
		all = append(all, float64(w.Low))
	}
	return all
}

// Outside check (worked example): weights, mixtures, blanks and bars: the rows about mass of
// testdata/worked_examples.csv.
func TestMassRows(t *testing.T) {
	rows := readMassRows(t)
	for _, c := range massRows {
		t.Run(c.id, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			row, ok := rows[c.id]
			require.True(t, ok, "no row")
			want, within := row.Figures(t)
			got := c.compute(t)
			require.Len(t, got, len(want), row.Inputs)
			for i := range want {
				require.InDelta(t, want[i], got[i], within[i]+1e-12, "%s (%s, %s)", row.Inputs, row.Source, row.Locator)
			}
		})
	}
}

// M06: the spread of the Roman pound is that of every published estimate.
//
// Outside check (handbook): the spread of the Roman pound is that of every published estimate.
func TestMassRowM06RomanPound(t *testing.T) {
	w, err := ParseWeight("roman-pound")
	require.NoError(t, err)
	all := published.Numbers(t, readMassRows(t)["M06"].Expected, ";")
	require.Equal(t, []unit.Gram{unit.Gram(slices.Min(all)), unit.Gram(slices.Max(all))}, []unit.Gram{w.Low, w.High})
}

// M19: the spread of the loss to polishing is what trade pages allow for cleaning
// and polishing castings, and the usual losses do not come to more than they
// charge all in, in per cent.
//
// Outside check (common practice): losses of cleaning and polishing against what trade pages
// allow.
func TestMassRowM19WorkshopLosses(t *testing.T) {
	row := published.Numbers(t, readMassRows(t)["M19"].Expected, "-;")
	require.Len(t, row, 3)
	for _, l := range UsualLosses() {
		if l.Cause == Polish {
			require.InDeltaSlice(t, row[:2], []float64{100 * l.Low, 100 * l.High}, 1e-9)
		}
	}
	require.Less(t, 100*(1-keep(UsualLosses(), usual)), row[2])
}

func TestEveryMassRowIsComputed(t *testing.T) {
	seen := slices.Clone(massRanges)
	for _, c := range massRows {
		require.NotContains(t, seen, c.id, "twice")
		seen = append(seen, c.id)
	}
	for id := range readMassRows(t) {
		require.Contains(t, seen, id)
	}
}
