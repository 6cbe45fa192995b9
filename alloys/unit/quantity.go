// Package unit holds the quantities of the bench as named types in handbook
// units, and reads and prints what a person types.
//
// Every quantity is a float64 under a name of its own (Millimetre, Celsius,
// Strain, ...), so that a reduction of thickness cannot be passed where a
// reduction of area is meant. String prints the unit; conversions are methods.
// Time stays time.Duration and time.Time.
//
// The Parse functions are the only door by which typed text becomes a
// quantity. They accept a decimal point or a decimal comma, quote the text in
// their errors and say what was expected, and never let NaN, an infinity, a
// zero or a negative size past. What String prints, they read back to the very
// same value (lengths, sizes, masses, temperatures, reductions, and times by
// FormatDuration). A base unit is kept as typed; other units are converted by
// exact factors and rounded far below what any tool of the bench can read.
package unit

import (
	"math"
	"strconv"
)

// Millimetre is a length in mm.
type Millimetre float64

// SquareMillimetre is an area in mm².
type SquareMillimetre float64

// CubicMillimetre is a volume in mm³.
type CubicMillimetre float64

// Gram is a mass in g.
type Gram float64

// Density is in g/cm³.
type Density float64

// Celsius is a temperature in °C.
type Celsius float64

// Kelvin is an absolute temperature in K.
type Kelvin float64

// Megapascal is a stress in MPa (N/mm²).
type Megapascal float64

// Vickers is a hardness number HV (kgf/mm²).
type Vickers float64

// AbsoluteZero is 0 K on the Celsius scale (exact by definition of the scale).
const AbsoluteZero Celsius = -273.15

// Kelvin converts to the absolute scale.
func (c Celsius) Kelvin() Kelvin { return Kelvin(c - AbsoluteZero) }

// Celsius converts to the Celsius scale.
func (k Kelvin) Celsius() Celsius { return Celsius(k) + AbsoluteZero }

// Fahrenheit gives the same temperature in °F (exact: 9/5 C + 32).
func (c Celsius) Fahrenheit() float64 { return float64(c)*9/5 + 32 }

// FromFahrenheit converts °F to °C.
func FromFahrenheit(f float64) Celsius { return Celsius((f - 32) * 5 / 9) }

// Mass of a volume at this density: 1 g/cm³ is 0.001 g/mm³.
func (d Density) Mass(v CubicMillimetre) Gram { return Gram(float64(d) * float64(v) / 1000) }

// number prints f with at most the given decimals and no trailing zeros.
func number(f float64, decimals int) string {
	p := math.Pow(10, float64(decimals))
	if r := math.Round(f*p) / p; !math.IsInf(r, 0) && !math.IsNaN(r) {
		f = r
	}
	if f == 0 {
		f = 0 // no minus sign on a rounded zero
	}
	return strconv.FormatFloat(f, 'f', -1, 64)
}

// String prints the shortest text that parses back to the same length, such as "6.4 mm".
func (l Millimetre) String() string { return strconv.FormatFloat(float64(l), 'f', -1, 64) + " mm" }

// String prints to 0.01 mm².
func (a SquareMillimetre) String() string { return number(float64(a), 2) + " mm²" }

// String prints to 0.1 mm³.
func (v CubicMillimetre) String() string { return number(float64(v), 1) + " mm³" }

// String prints the shortest text that parses back to the same mass, such as "60 g".
func (g Gram) String() string { return strconv.FormatFloat(float64(g), 'f', -1, 64) + " g" }

// String prints to 0.01 g/cm³.
func (d Density) String() string { return number(float64(d), 2) + " g/cm³" }

// String prints the shortest text that parses back to the same temperature, such as "650 °C".
func (c Celsius) String() string { return strconv.FormatFloat(float64(c), 'f', -1, 64) + " °C" }

// String prints to 0.1 K.
func (k Kelvin) String() string { return number(float64(k), 1) + " K" }

// String prints whole MPa.
func (p Megapascal) String() string { return number(float64(p), 0) + " MPa" }

// String prints whole HV.
func (h Vickers) String() string { return number(float64(h), 0) + " HV" }
