package unit

import "errors"

// MaxTemperature is above every flame and furnace of a workshop; a higher
// figure is a slip of the keyboard.
const MaxTemperature Celsius = 4000

// temperatures turn a figure in each unit into °C; a bare figure is in °C.
var temperatures = map[string]func(float64) Celsius{
	"": fromCelsius, "c": fromCelsius, "°c": fromCelsius, "°": fromCelsius,
	"f": fromFahrenheit, "°f": fromFahrenheit,
	"k": fromKelvin,
}

func fromCelsius(v float64) Celsius    { return Celsius(v) }
func fromFahrenheit(v float64) Celsius { return Celsius(round(float64(FromFahrenheit(v)), 6)) }
func fromKelvin(v float64) Celsius     { return Celsius(round(float64(Kelvin(v).Celsius()), 6)) }

// ParseTemperature reads a temperature such as 650, 650C, 650 °C, 1200F or
// 923K. A bare number is in °C; °F and K come out in °C to six decimals. It
// refuses absolute zero and below, and what is above MaxTemperature.
func ParseTemperature(s string) (Celsius, error) { return parse(s, readTemperature) }

func readTemperature(words []string) (Celsius, error) {
	below := len(words) > 0 && words[0] == "-"
	if below {
		words = words[1:]
	}
	r, ok := only(words)
	v, plain := decimal(r.number, "")
	toCelsius, known := temperatures[r.unit]
	if !ok || !plain || !known {
		return 0, errors.New("expected a temperature such as 650, 650 °C, 1200 °F or 923 K")
	}
	if below {
		v = 0 - v // never a minus zero
	}
	return toCelsius(v).bounded()
}

func (c Celsius) bounded() (Celsius, error) {
	switch {
	case c > MaxTemperature:
		return 0, errors.New("no bench flame is hotter than 4000 °C")
	case c > AbsoluteZero:
		return c, nil
	}
	return 0, errors.New("expected a temperature above absolute zero, -273.15 °C")
}
