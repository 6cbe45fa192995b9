package heat

import "math"

// Transmittance is the share of light that eyewear of a filter shade lets through,
// 10^(-(S-1)·3/7), the definition of the shade number (from memory): shade 2 passes
// 37 %, 3 passes 14 %. A shade below 1, and what is no number, is no filter.
func Transmittance(shade float64) float64 {
	if !(shade >= 1) {
		return 1
	}
	return math.Pow(10, -(shade-1)*3/7)
}
