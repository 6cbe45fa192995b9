package heat

import (
	"math"
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
	return emissivity * StefanBoltzmann * (t + w) * (t*t + w*w)
}

// RadiationTime is how long a body takes to cool if it only radiates: the closed
// form of Incropera (eq. 5.18, from memory), with room < to < from. Convection
// makes a real piece quicker; the form is there to hold the quadrature against.
func (c Cooling) RadiationTime(from, to unit.Celsius) time.Duration {
	walls, hot, cold := float64(c.Room.Kelvin()), float64(from.Kelvin()), float64(to.Kelvin())
	scale := c.Body.Capacity() / (4 * c.Emissivity * StefanBoltzmann * c.Body.Area * walls * walls * walls)
	form := func(t float64) float64 { return math.Log((t+walls)/(t-walls)) + 2*math.Atan(t/walls) }
	return inSeconds(scale * (form(cold) - form(hot)))
}

// inSeconds is a number of seconds, unit.MaxDuration at most; what is no number is 0.
func inSeconds(s float64) time.Duration {
	if !(s >= 0) {
		return 0
	}
	return time.Duration(min(s, unit.MaxDuration.Seconds()) * float64(time.Second))
}
