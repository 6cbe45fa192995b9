package heat

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTouchingMetalIsTouchingItsTemperature(t *testing.T) {
	for _, m := range []Metal{copperA1, silverA1, goldA1, brassA1} {
		at := ContactTemperature(m, SafeTouch, 33)
		require.Less(t, at, SafeTouch)
		require.Greater(t, at, SafeTouch-2, "within 2 K: metal wins over skin")
	}
}
