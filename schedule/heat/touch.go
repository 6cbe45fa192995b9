package heat

import (
	"math"

	"dullred/alloys/unit"
)

// SafeTouch is the hottest bare metal that is safe to handle. ISO 13732-1 puts the
// burn threshold of bare metal at 51 °C for a minute's touch and at 48 °C for ten
// minutes (from memory, not looked up); the lower one is taken.
const SafeTouch unit.Celsius = 48

// Skin is what a touch is reckoned with; the figures are an assumption.
var Skin = Metal{Density: 1000, SpecificHeat: 3770, Conductivity: 0.37}

// ContactTemperature is that of the face between hot metal and skin as they touch:
// two half spaces, weighted by their √(kρc). Metal wins by far: skin takes on
// nearly its temperature, which is why it burns where warm wood does not.
func ContactTemperature(m Metal, hot, skin unit.Celsius) unit.Celsius {
	metal, flesh := m.effusivity(), Skin.effusivity()
	return (unit.Celsius(metal)*hot + unit.Celsius(flesh)*skin) / unit.Celsius(metal+flesh)
}

// effusivity is √(kρc) in W√s/m²K.
func (m Metal) effusivity() float64 { return math.Sqrt(m.Conductivity * m.Density * m.SpecificHeat) }
