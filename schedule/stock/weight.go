package stock

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dullred/alloys/unit"
)

// Weight is a unit in which a mass can be shown: one of today, which is exact,
// or a historic one, of which only a spread is known.
type Weight struct {
	Name      string
	Low, High unit.Gram // alike for an exact unit, and where one value is published
	Exact     bool
	Source    string // of a historic unit
}

// today are the units of NIST Handbook 44, Appendix C, as alloys/unit reads them,
// and the decimals that are shown.
var today = map[string]int{"g": 2, "kg": 5, "ozt": 3, "dwt": 2, "gr": 1, "oz": 3}

// historic are the published weights that are shown, none to more than three
// figures. Where there are several values the spread runs over all.
var historic = []Weight{
	{"ora", grains(410), grains(410), false, "410 grains, Ridgeway 1892"},
	{"ertog", grains(136.7), grains(136.7), false, "136.7 grains, Ridgeway 1892"},
	{"mark", grains(3280), grains(3280), false, "3280 grains, Ridgeway 1892"},
	{"dublin-ounce", 24, 26.6, false, "a teaching page 24; Wallace 26.6, from memory"},
	{"roman-pound", 322.8, 335.92, false, "seven estimates from Duncan-Jones to Ridgeway, after the introduction of RIB 2412"},
	{"mithqal", 4.23, 4.23, false, "Kershaw"},
	{"dirham", 2.94, 2.94, false, "Esty, from weights of five"},
}

// grains is a mass that is published in grains, of 64.79891 mg exactly.
func grains(n float64) unit.Gram { return unit.Gram(n * 0.06479891) }

// ParseWeight finds a unit by its name.
func ParseWeight(name string) (Weight, error) {
	name = strings.ToLower(strings.TrimSpace(name))
	if _, known := today[name]; known {
		g, err := unit.ParseMass("1 " + name)
		return Weight{Name: name, Low: g, High: g, Exact: true}, err
	}
	i := slices.IndexFunc(historic, func(w Weight) bool { return w.Name == name })
	if i < 0 {
		return Weight{}, fmt.Errorf("%.40q is no weight that is known here, expected one of %s", name, strings.Join(WeightNames(), ", "))
	}
	return historic[i], nil
}

// WeightNames are the units that ParseWeight knows.
func WeightNames() []string {
	names := []string{"g", "kg", "ozt", "dwt", "gr", "oz"}
	for _, w := range historic {
		names = append(names, w.Name)
	}
	return names
}

// Of is a mass in the unit, its lowest and its highest value.
func (w Weight) Of(g unit.Gram) (low, high float64) {
	return float64(g / w.High), float64(g / w.Low)
}

// Text is a mass in the unit: exact to what a balance shows, or historic to
// three figures over the spread, two where only one value is published.
func (w Weight) Text(g unit.Gram) string {
	low, high := w.Of(g)
	switch {
	case w.Exact:
		return strconv.FormatFloat(low, 'f', today[w.Name], 64) + " " + w.Name
	case w.Low == w.High:
		return "about " + figures(low, w.known()) + " " + w.Name
	}
	return figures(low, w.known()) + " to " + figures(high, w.known()) + " " + w.Name
}

// Figures rounds a value in a historic unit to the figures that its spread bears:
// three, or two where one value is published.
func (w Weight) Figures(v float64) float64 { return rounded(v, w.known()) }

// known is how many figures of the unit are shown.
func (w Weight) known() int {
	if w.Low == w.High {
		return 2
	}
	return 3
}

// Published says what the unit weighs, and who says so.
func (w Weight) Published() string {
	if w.Low == w.High {
		return fmt.Sprintf("%s g is the one value known here, and others differ (%s)", figures(float64(w.Low), 3), w.Source)
	}
	return fmt.Sprintf("published as %s to %s g (%s)", figures(float64(w.Low), 3), figures(float64(w.High), 3), w.Source)
}

// figures prints v with n figures that count.
func figures(v float64, n int) string { return strconv.FormatFloat(rounded(v, n), 'f', -1, 64) }

// rounded is v to n figures that count.
func rounded(v float64, n int) float64 {
	if v == 0 {
		return 0
	}
	p := math.Pow10(n - 1 - int(math.Floor(math.Log10(math.Abs(v)))))
	return math.Round(v*p) / p
}
