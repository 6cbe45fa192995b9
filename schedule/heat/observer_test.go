package heat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The sums of the CIE 1931 2-degree table at 5 nm from 360 to 830 nm, recomputed
// from a public 1 nm copy whose own sums match those the CIE prints.
//
// Outside check (standard): the sums of the CIE 1931 observer.
func TestObserverSums(t *testing.T) {
	var x, y, z float64
	for _, m := range observerTable() {
		x, y, z = x+m.x, y+m.y, z+m.z
	}
	require.InDelta(t, 21.3731399886, x, 1e-9)
	require.InDelta(t, 21.3714078505, y, 1e-9)
	require.InDelta(t, 21.3786643090, z, 1e-9)
}

func TestObserverIsWhole(t *testing.T) {
	all := observerTable()
	require.Len(t, all, 95)
	strongest := all[0]
	for i, m := range all {
		require.InDelta(t, float64(360+5*i)*1e-9, m.lambda, 1e-15)
		require.True(t, m.x >= 0 && m.y > 0 && m.z >= 0, "row %d", i)
		if m.y > strongest.y {
			strongest = m
		}
	}
	require.InDelta(t, 555e-9, strongest.lambda, 1e-15, "the eye is best at 555 nm")
	require.Equal(t, 1.0, strongest.y, "by definition of the observer")
}

// between is the part of the observer from one wavelength to another in nm.
func between(low, high float64) []match {
	var part []match
	for _, m := range observerTable() {
		if nm := math.Round(m.lambda * 1e9); nm >= low && nm <= high {
			part = append(part, m)
		}
	}
	return part
}

// illuminantA is x and y of the CIE's incandescent light over a part of the
// observer, by the formula that defines it (CIE 15): relative power
// (560/λ)⁵ (exp(1.435e7/(2848·560)) - 1)/(exp(1.435e7/(2848λ)) - 1), λ in nm.
func illuminantA(part []match) []float64 {
	var s tristimulus
	for _, m := range part {
		nm := m.lambda * 1e9
		power := math.Pow(560/nm, 5) * math.Expm1(1.435e7/(2848*560)) / math.Expm1(1.435e7/(2848*nm))
		s.x, s.y, s.z = s.x+power*m.x, s.y+power*m.y, s.z+power*m.z
	}
	x, y := s.chromaticity()
	return []float64{x, y}
}

// Illuminant A by the whole path of a glow: with the exact c2 it is a radiator of
// 2848 K times 1.4387768775/1.435. CIE 15 prints 0.44757, 0.40745.
//
// Outside check (standard): chromaticity of illuminant A, CIE 15.
func TestGlowOfIlluminantA(t *testing.T) {
	x, y := seenBy(weighedTable(), 2848*secondRadiation/1.435e-2).chromaticity()
	require.InDelta(t, 0.44757, x, 1e-4)
	require.InDelta(t, 0.40745, y, 1e-4)
}

func TestReadObserverRefusesWhatIsNoNumber(t *testing.T) {
	_, err := readObserver("wavelength_nm,xbar,ybar,zbar\n360,0.1,much,0.2\n")
	require.ErrorContains(t, err, "much")
	_, err = readObserver("")
	require.ErrorContains(t, err, "expected the columns")
}
