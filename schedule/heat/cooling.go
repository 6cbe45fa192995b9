package heat

import (
	"fmt"
	"math"
	"time"

	"dullred/alloys/unit"
)

// Cooling is a hot body in air, with walls and air at one temperature. It loses
// heat through all its skin by radiation and convection.
type Cooling struct {
	Body       Body
	Emissivity float64 // 0 to 1
	Room       unit.Celsius
	H          float64 // W/m²K; 0 is natural convection by its own size (Churchill & Chu)
}

// maxH is above every heat transfer coefficient of a bench, W/m²K; oxy-fuel flames
// and boiling water stay below it.
const maxH = 100_000

// check is what a body, its skin and its room must be to be reckoned with.
func (c Cooling) check() error {
	b := c.Body
	for _, v := range []float64{b.Volume, b.Area, b.Density, b.SpecificHeat} {
		if !(v > 0) || math.IsInf(v, 0) {
			return fmt.Errorf("a body of no size, density or specific heat cannot be reckoned with")
		}
	}
	if !(c.Emissivity >= 0 && c.Emissivity <= 1) {
		return fmt.Errorf("an emissivity of %g cannot be: it is 0 to 1", c.Emissivity)
	}
	if !(c.H >= 0 && c.H <= maxH) {
		return fmt.Errorf("a heat transfer coefficient of %g W/m²K is not believable", c.H)
	}
	return believable(c.Room)
}

// believable refuses what is no temperature of a bench.
func believable(all ...unit.Celsius) error {
	for _, t := range all {
		if !(t > unit.AbsoluteZero && t <= unit.MaxTemperature) {
			return fmt.Errorf("%v is not believable: a temperature is above %v and at most %v", t, unit.AbsoluteZero, unit.MaxTemperature)
		}
	}
	return nil
}

// loses is how many W go through one m² of skin at t °C.
func (c Cooling) loses(a air) func(t float64) float64 {
	walls := c.Room.Kelvin()
	return func(t float64) float64 {
		return radiated(c.Emissivity, unit.Celsius(t).Kelvin(), walls) + a.coefficient(t)*(t-a.room)
	}
}

// flow is the balance -h A (T - T₀) - εσA(T⁴ - T₀⁴).
func (c Cooling) flow() flow {
	a := airOf(c.Body, c.Room, c.H)
	loss, share := c.loses(a), -c.Body.Area/c.Body.capacity()
	return flow{rate: func(t float64) float64 { return share * loss(t) }, rest: float64(c.Room), cuts: a.kinks()}
}

// way is the flow between two temperatures, if it leads from one to the other.
func (c Cooling) way(from, to unit.Celsius) (flow, error) {
	if err := c.check(); err != nil {
		return flow{}, err
	}
	if err := believable(from, to); err != nil {
		return flow{}, err
	}
	if from <= to {
		return flow{}, fmt.Errorf("it does not cool from %v to %v", from, to)
	}
	if to-c.Room <= nearest {
		return flow{}, fmt.Errorf("it never cools to %v in a room at %v", to, c.Room)
	}
	return c.flow(), nil
}

// Time is how long it takes to cool. The errors are what cannot be: a temperature
// that is not believable, one that is not below from, one that is not above the
// room, and more than a year.
func (c Cooling) Time(from, to unit.Celsius) (time.Duration, error) {
	f, err := c.way(from, to)
	if err != nil {
		return 0, err
	}
	return waited(f.seconds(float64(from), float64(to)))
}

// waited is a time that a bench could wait.
func waited(s float64) (time.Duration, error) {
	if !(s >= 0 && s <= unit.MaxDuration.Seconds()) {
		return 0, fmt.Errorf("it takes more than a year")
	}
	return inSeconds(s), nil
}

// After is the temperature so much later, and the room's in the end. It is from if
// that is not above the room, or if the cooling cannot be reckoned with; what is no
// number stays none.
func (c Cooling) After(from unit.Celsius, d time.Duration) unit.Celsius {
	if c.check() != nil || believable(from) != nil || d <= 0 || from <= c.Room {
		return from
	}
	return unit.Celsius(c.flow().after(float64(from), d.Seconds()))
}

// Coefficient is what convection and radiation take together at t, in W/m²K, and 0
// if that cannot be reckoned.
func (c Cooling) Coefficient(t unit.Celsius) float64 {
	if c.check() != nil || believable(t) != nil {
		return 0
	}
	return airOf(c.Body, c.Room, c.H).coefficient(float64(t)) + radiationCoefficient(c.Emissivity, t.Kelvin(), c.Room.Kelvin())
}

// Biot is the Biot number with the whole coefficient at t; see [Body.Biot].
func (c Cooling) Biot(t unit.Celsius) float64 { return c.Body.Biot(c.Coefficient(t)) }
