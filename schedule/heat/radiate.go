package heat

import (
	"time"

	"dullred/alloys/unit"
)

// radiated is what one m² of a grey body gives to walls that shut it in, in W:
// εσ(T⁴ - T₀⁴), both in K. It is negative where the walls are hotter.
func radiated(emissivity float64, body, walls unit.Kelvin) float64 {
	return radiationCoefficient(emissivity, body, walls) * float64(body-walls)
}

// radiationCoefficient is the same for each kelvin between them, in W/m²K.
func radiationCoefficient(emissivity float64, body, walls unit.Kelvin) float64 {
	t, w := float64(body), float64(walls)
	return emissivity * stefanBoltzmann * (t + w) * (t*t + w*w)
}

// inSeconds is a number of seconds, unit.MaxDuration at most; what is no number is 0.
func inSeconds(s float64) time.Duration {
	if !(s >= 0) {
		return 0
	}
	return time.Duration(min(s, unit.MaxDuration.Seconds()) * float64(time.Second))
}
