package heat

import (
	_ "embed" // the table
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"dullred/alloys/unit"
)

//go:embed cie_1931_2deg_5nm.csv
var observerCSV string

const (
	// luminousEfficacy is Km in lm/W (exact by the SI, to what an eye can tell).
	luminousEfficacy = 683
	observerStep     = 5e-9 // m
)

// match is the CIE 1931 2-degree observer at one wavelength.
type match struct {
	lambda  float64 // m
	x, y, z float64
}

// weighed is a match made ready for Planck's law: what is left to do at a
// temperature is to divide by exp(c2/λT) - 1 and to add up.
type weighed struct{ exponent, x, y, z float64 }

// tristimulus is a colour in CIE 1931 X, Y and Z; Y is in cd/m².
type tristimulus struct{ x, y, z float64 }

// observerTable is the observer from 360 to 830 nm.
var observerTable = sync.OnceValue(func() []match {
	all, err := readObserver(observerCSV)
	if err != nil {
		panic("heat: embedded observer: " + err.Error())
	}
	return all
})

var weighedTable = sync.OnceValue(func() []weighed { return weigh(observerTable()) })

const observerColumns = "wavelength_nm,xbar,ybar,zbar"

// readObserver reads the table: wavelengths in nm.
func readObserver(text string) ([]match, error) {
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(records) == 0 || strings.Join(records[0], ",") != observerColumns {
		return nil, fmt.Errorf("expected the columns %s", observerColumns)
	}
	var all []match
	for _, record := range records[1:] {
		var v [4]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(record[i], 64); err != nil {
				return nil, err
			}
		}
		all = append(all, match{lambda: v[0] * 1e-9, x: v[1], y: v[2], z: v[3]})
	}
	return all, nil
}

// weigh makes an observer ready for Planck's law, L = c1L/λ⁵/(exp(c2/λT) - 1), in
// steps of observerStep.
func weigh(all []match) []weighed {
	var w []weighed
	for _, m := range all {
		scale := luminousEfficacy * observerStep * firstRadiation / math.Pow(m.lambda, 5)
		w = append(w, weighed{exponent: secondRadiation / m.lambda, x: scale * m.x, y: scale * m.y, z: scale * m.z})
	}
	return w
}

// seenBy is a perfect radiator through an observer; nothing at absolute zero.
func seenBy(observer []weighed, t unit.Kelvin) tristimulus {
	var s tristimulus
	if !(t > 0) {
		return s
	}
	for _, w := range observer {
		share := 1 / math.Expm1(w.exponent/float64(t))
		s.x += w.x * share
		s.y += w.y * share
		s.z += w.z * share
	}
	return s
}

// chromaticity is x and y, 0 where there is no light.
func (s tristimulus) chromaticity() (x, y float64) {
	sum := s.x + s.y + s.z
	if !(sum > 1e-290) { // below this figures lose their digits
		return 0, 0
	}
	return s.x / sum, s.y / sum
}
