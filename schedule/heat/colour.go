package heat

import (
	"fmt"
	"math"
)

// linearSRGB turns X, Y, Z into linear red, green and blue (IEC 61966-2-1).
var linearSRGB = [3][3]float64{
	{3.2406, -1.5372, -0.4986},
	{-0.9689, 1.8758, 0.0415},
	{0.0557, -0.2040, 1.0570},
}

// unlit is the swatch of what gives no light.
const unlit = "#000000"

// swatch is the colour of a light on a screen, as bright as a screen can: what is
// negative is cut to 0, the strongest primary is made full, and the rest is
// encoded. clipped is true if something was cut, so that the light lies outside of
// what a screen can show; every glow of a hand anneal does.
func (s tristimulus) swatch() (hex string, clipped bool) {
	rgb, clipped := s.linear()
	strongest := max(rgb[0], rgb[1], rgb[2])
	if !(strongest > 0) {
		return unlit, false
	}
	var byte8 [3]int
	for i, v := range rgb {
		byte8[i] = int(math.Round(255 * encode(v/strongest)))
	}
	return fmt.Sprintf("#%02x%02x%02x", byte8[0], byte8[1], byte8[2]), clipped
}

// linear is linear red, green and blue with what is negative cut to 0.
func (s tristimulus) linear() (rgb [3]float64, clipped bool) {
	for i, row := range linearSRGB {
		v := row[0]*s.x + row[1]*s.y + row[2]*s.z
		clipped = clipped || v < 0
		rgb[i] = max(v, 0)
	}
	return rgb, clipped
}

// encode is the transfer curve of sRGB for a linear value of 0 to 1.
func encode(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}
