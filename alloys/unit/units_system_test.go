//go:build system

package unit

import (
	"fmt"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// GNU units has the gauges and the weights of the bench from its own tables.
func unitsProgram(t *testing.T, from, to string) float64 {
	t.Helper()
	out, err := exec.Command("units", "--terse", "--digits", "12", from, to).CombinedOutput()
	require.NoError(t, err, "units %s %s: %s", from, to, out)
	v, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	require.NoError(t, err)
	return v
}

// Outside check (reference): units (GNU): every B&S gauge from 0000 on, to 1e-6 mm.
func TestSystemGaugesAgainstUnits(t *testing.T) {
	for n := thickestGauge; n <= thinnestGauge; n++ {
		want := unitsProgram(t, fmt.Sprintf("awg(%d)", n), "mm")
		require.InDelta(t, want, float64(n.Diameter()), 1e-6, "%v, to the nanometre", n)
	}
	for typed, in := range map[string]string{"20ga": "awg(20)", "1ga": "awg(1)", "0ga": "awg(0)", "4/0 ga": "awg(-3)", "0000ga": "awg(-3)"} {
		got, err := ParseLength(typed)
		require.NoError(t, err)
		require.InDelta(t, unitsProgram(t, in, "mm"), float64(got), 1e-6, typed)
	}
}

// Outside check (reference): units (GNU): troy ounce, pennyweight, grain, avoirdupois ounce.
func TestSystemWeightsAgainstUnits(t *testing.T) {
	cases := []struct{ typed, units string }{
		{"1 ozt", "troyounce"},
		{"7.5 ozt", "7.5 troyounce"},
		{"1 dwt", "pennyweight"},
		{"13 dwt", "13 pennyweight"},
		{"1 gr", "grain"},
		{"437.5 grains", "437.5 grain"},
		{"1 oz", "ounce"},
		{"3 oz", "3 pound/16"},
		{"1.2 kg", "1.2 kg"},
	}
	for _, c := range cases {
		got, err := ParseMass(c.typed)
		require.NoError(t, err)
		want := unitsProgram(t, c.units, "g")
		require.InEpsilon(t, want, float64(got), 1e-9, c.typed)
	}
}

// Outside check (reference): units (GNU): lengths as typed.
func TestSystemLengthsAgainstUnits(t *testing.T) {
	cases := []struct{ typed, units string }{
		{"1in", "inch"},
		{"1/2in", "0.5 inch"},
		{"2.5 cm", "2.5 cm"},
	}
	for _, c := range cases {
		got, err := ParseLength(c.typed)
		require.NoError(t, err)
		require.InEpsilon(t, unitsProgram(t, c.units, "mm"), float64(got), 1e-12, c.typed)
	}
}
