package heat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Outside check (handbook): the share of light that a filter shade lets through, by a
// definition from memory.
func TestTransmittance(t *testing.T) {
	cases := []struct {
		name, reason string
		shade, want  float64
	}{
		{"none", "no eyewear", 0, 1},
		{"shade 1", "the definition begins here", 1, 1},
		{"shade 2", "37 % by the definition (from memory)", 2, 0.3728},
		{"shade 3", "14 %", 3, 0.1389},
		{"shade 4", "5 %", 4, 0.0518},
		{"shade 8", "7 more are three powers of ten", 8, 1e-3},
		{"below one", "no such filter", -5, 1},
		{"not a number", "no filter is known", math.NaN(), 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.InDelta(t, c.want, Transmittance(c.shade), 5e-5, c.reason) })
	}
}
