package heat

import (
	_ "embed" // the table
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"dullred/alloys"
	"dullred/alloys/unit"
)

//go:embed kinetics.csv
var kineticsCSV string

// gasConstant is R in J/molK (exact by the SI of 2019, rounded).
const gasConstant = 8.314462618

// maxStrain is beyond all that is worked; more counts as this.
const maxStrain unit.Strain = 10

// Work speeds softening by t05 ~ strain^-p. No p is published for metals worked by
// hand, so it is a judged band: 1 as likely, 0 and 2 at the ends, whichever of the
// two makes the slow end slower and the fast end faster.
const (
	likelyPower = 1.0
	mostPower   = 2.0
)

// observation is one row of the table: half softened at temp after half, when
// worked by strain, and how that moves with temperature.
type observation struct {
	strain       unit.Strain
	temp         unit.Celsius
	half         float64 // s
	energy       float64 // J/mol
	n            float64
	work         extent // per cent of thickness
	heat         extent // °C
	anchor, from string
	confidence   alloys.Confidence
}

// extent is what observations cover. The zero extent covers nothing.
type extent struct {
	low, high float64
	known     bool
}

// with is the extent from the lower end of two to the higher; an unknown one adds
// nothing.
func (e extent) with(f extent) extent {
	switch {
	case !f.known:
		return e
	case !e.known:
		return f
	}
	return extent{min(e.low, f.low), max(e.high, f.high), true}
}

func (e extent) holds(v float64) bool { return e.known && v >= e.low-1e-6 && v <= e.high+1e-6 }

// Kinetics is how fast an alloy softens, as a band between what its published
// observations allow: the slowest of them at any temperature is the low end, the
// fastest the high end, and one is the likely. The zero Kinetics softens nothing.
type Kinetics struct {
	// N counts the bend checks that were learned from; see Proved.
	N int

	all    []observation // the likely one first
	proved bracket
}

// KineticsOf are the published kinetics of an alloy. It is false where there are
// none, which is so of most: whether such a metal is soft only a bend check shows.
func KineticsOf(a alloys.Alloy) (Kinetics, bool) {
	all := kineticsTable()[a.ID]
	if a.Own || len(all) == 0 {
		return Kinetics{}, false
	}
	return Kinetics{all: all}, true
}

// Unpublished says that nothing is published, for an alloy without Kinetics.
func Unpublished(a alloys.Alloy) string {
	if a.SelfSoftening {
		return fmt.Sprintf("%s softens by itself at room temperature and is not annealed", a.Name)
	}
	return fmt.Sprintf("how fast %s softens is not published: prove it by bending", a.Name)
}

// Basis is the observation that the likely figure rests on, in one sentence.
func (k Kinetics) Basis() string {
	if len(k.all) == 0 {
		return ""
	}
	words := k.all[0].anchor
	if k.all[0].confidence == alloys.ConfidenceJudgement {
		words += " (partly a judgement)"
	}
	if k.N > 0 {
		words += fmt.Sprintf("; corrected by %d of your bend checks", k.N)
	}
	return words
}

// proveIt is what to do where the figures of a softening are not to be relied on.
const proveIt = ": prove it by bending"

// Within is empty for work and heat inside the range that was observed. Outside it
// is what has to stand beside every figure: the range, and what to do.
func (k Kinetics) Within(worked unit.Strain, temp unit.Celsius) string {
	if len(k.all) == 0 {
		return "outside of anything published" + proveIt
	}
	var work, heats extent
	for _, o := range k.all {
		work, heats = work.with(o.work), heats.with(o.heat)
	}
	var out []string
	if !work.holds(100 * float64(worked.Worked())) {
		out = append(out, fmt.Sprintf("%g to %g %% worked", work.low, work.high))
	}
	if !heats.holds(float64(temp)) {
		out = append(out, fmt.Sprintf("%g to %g °C", heats.low, heats.high))
	}
	if len(out) == 0 {
		return ""
	}
	return "outside the published range of " + strings.Join(out, " and ") + proveIt
}

// rates are 1/t05 in 1/s at a temperature, for the slow, the likely and the fast end
// of the band. None falls with heat.
func (k Kinetics) rates(worked unit.Strain, t unit.Celsius) [3]float64 {
	if len(k.all) == 0 || !(worked > 0) {
		return [3]float64{}
	}
	slow, fast := math.Inf(1), 0.0
	for _, o := range k.all {
		r := o.rate(t)
		s, f := o.faster(worked)
		slow, fast = min(slow, r*s), max(fast, r*f)
	}
	first := k.all[0]
	likely := first.rate(t) * math.Pow(first.ratio(worked), likelyPower)
	return k.proved.narrow([3]float64{slow, likely, fast})
}

// rate is 1/t05 = exp(-Q/R (1/T - 1/T0)) / t05(T0) in 1/s, at the work observed.
func (o observation) rate(t unit.Celsius) float64 {
	if !(t > unit.AbsoluteZero) {
		return 0
	}
	far := 1/float64(t.Kelvin()) - 1/float64(o.temp.Kelvin())
	return math.Exp(-o.energy/gasConstant*far) / o.half
}

// ratio is the work over that observed.
func (o observation) ratio(worked unit.Strain) float64 {
	return float64(min(worked, maxStrain) / o.strain)
}

// faster is by what factor other work than that observed may speed softening, at
// least and at most.
func (o observation) faster(worked unit.Strain) (least, most float64) {
	f := math.Pow(o.ratio(worked), mostPower)
	return min(f, 1), max(f, 1)
}

var kineticsTable = sync.OnceValue(func() map[alloys.ID][]observation {
	table, err := readKinetics(kineticsCSV)
	if err != nil {
		panic("heat: kinetics.csv: " + err.Error())
	}
	return table
})

const kineticsColumns = "alloy,use,worked,temp_c,t05_s,q_kj,n,work_low,work_high,temp_low,temp_high,confidence,anchor,source"

// readKinetics reads the table, the likely observation of each alloy first.
func readKinetics(text string) (map[alloys.ID][]observation, error) {
	in := csv.NewReader(strings.NewReader(text))
	in.Comment = '#'
	rows, err := in.ReadAll()
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 || strings.Join(rows[0], ",") != kineticsColumns {
		return nil, fmt.Errorf("expected the columns %s", kineticsColumns)
	}
	table := map[alloys.ID][]observation{}
	for _, row := range rows[1:] {
		o, err := readObservation(row)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", row[0], err)
		}
		id := alloys.ID(row[0])
		if (row[1] == "likely") != (len(table[id]) == 0) {
			return nil, fmt.Errorf("%s: one likely row stands first", id)
		}
		table[id] = append(table[id], o)
	}
	return table, nil
}

func readObservation(row []string) (observation, error) {
	var v [9]float64
	for i, text := range row[2:11] {
		var err error
		if v[i], err = strconv.ParseFloat(text, 64); err != nil && text != "" {
			return observation{}, err
		}
	}
	o := observation{strain: unit.ThicknessReduction(v[0] / 100).Strain(), temp: unit.Celsius(v[1]), half: v[2], energy: 1000 * v[3], n: v[4],
		work: extent{v[5], v[6], row[7] != ""}, heat: extent{v[7], v[8], row[9] != ""},
		confidence: alloys.Confidence(row[11]), anchor: row[12], from: row[13]}
	if !(o.strain > 0 && o.half > 0 && o.energy > 0 && o.n >= 1) || o.anchor == "" || o.from == "" {
		return observation{}, errors.New("a figure or a source is missing, or cannot be")
	}
	return o, nil
}
