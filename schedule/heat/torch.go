package heat

import (
	"errors"
	"fmt"
	"time"

	"dullred/alloys/unit"
)

// Flame is what plays on a piece. It gives h(T_f - T) to every m² that it bathes:
// less as the piece gets hotter, and nothing at its own temperature.
type Flame struct {
	Temp  unit.Celsius // of the gas at the piece, not the adiabatic one
	H     float64      // W/m²K
	Faces int          // bathed: 1 is half the skin, 2 is all of it
	Brick bool         // hot brick behind: the other half loses nothing
}

// BenchFlame is the temperature of a bench torch on propane or butane and air, as
// a craft page gives it; burning with no loss at all would give about 1980 °C.
const BenchFlame unit.Celsius = 1225

// ErrNever is that a flame does not bring a piece to a heat, however long it plays.
var ErrNever = errors.New("not with these numbers")

// Heating is a body in a flame. What the flame bathes radiates but has no cooling
// air about it; the other half of the skin, when there is one, does both.
type Heating struct {
	Body       Body
	Flame      Flame
	Emissivity float64 // 0 to 1
	Room       unit.Celsius
	H          float64 // W/m²K of the unbathed half; 0 is natural convection
}

// check is what a flame and a body must be to be reckoned with.
func (h Heating) check() error {
	f := h.Flame
	switch {
	case believable(f.Temp) != nil:
		return fmt.Errorf("a flame at %v is not believable", f.Temp)
	case !(f.H > 0 && f.H <= maxH):
		return fmt.Errorf("a flame that gives %g W/m²K is not believable: it is above 0 and at most %d", f.H, maxH)
	case f.Faces != 1 && f.Faces != 2:
		return fmt.Errorf("a flame bathes 1 face or 2, not %d", f.Faces)
	case f.Faces == 2 && f.Brick:
		return errors.New("a flame cannot bathe both faces of a piece with brick behind it")
	}
	return h.cooling().check()
}

// cooling is the same body when the flame is taken away.
func (h Heating) cooling() Cooling { return Cooling{h.Body, h.Emissivity, h.Room, h.H} }

// flow is the balance q = h_f A_f (T_f - T) - εσA_r(T⁴ - T₀⁴) - h A_c (T - T₀).
func (h Heating) flow() flow {
	area := h.Body.Area
	bathed, radiating, airy := area, area, 0.0
	if h.Flame.Faces == 1 {
		bathed, airy = area/2, area/2
	}
	if h.Flame.Brick {
		radiating, airy = area/2, 0
	}
	a, walls, share := airOf(h.Body, h.Room, h.H), h.Room.Kelvin(), 1/h.Body.capacity()
	f := flow{rate: func(t float64) float64 {
		q := h.Flame.H*bathed*(float64(h.Flame.Temp)-t) - radiating*radiated(h.Emissivity, unit.Celsius(t).Kelvin(), walls)
		if airy > 0 {
			q -= airy * a.coefficient(t) * (t - a.room)
		}
		return share * q
	}}
	if airy > 0 {
		f.cuts = a.kinks()
	}
	f.rest = restBetween(f.rate, float64(h.Room), float64(h.Flame.Temp))
	return f
}

// restBetween is where a rate that falls with temperature is 0, between the room's
// and the flame's temperature.
func restBetween(rate func(float64) float64, room, flame float64) float64 {
	lo, hi := min(room, flame), max(room, flame)
	if !(rate(lo) > 0) {
		return lo
	}
	if !(rate(hi) < 0) {
		return hi
	}
	return root(rate, lo, hi)
}

// Equilibrium is the temperature at which the piece takes in what it loses, and
// rests. It is absolute zero for a heating that cannot be reckoned with.
func (h Heating) Equilibrium() unit.Celsius {
	if h.check() != nil {
		return unit.AbsoluteZero
	}
	return unit.Celsius(h.flow().rest)
}

// way is the flow between two temperatures, if it leads from one to the other.
func (h Heating) way(from, to unit.Celsius) (flow, error) {
	if err := h.check(); err != nil {
		return flow{}, err
	}
	if err := believable(from, to); err != nil {
		return flow{}, err
	}
	if to <= from {
		return flow{}, fmt.Errorf("it is not heated from %v to %v", from, to)
	}
	f := h.flow()
	if float64(to) >= f.rest-nearest {
		return f, fmt.Errorf("%w: it comes to rest at %.0f °C", ErrNever, f.rest)
	}
	return f, nil
}

// Time is how long the flame must play. The error is [ErrNever] where the piece
// comes to rest below to, or else what cannot be.
func (h Heating) Time(from, to unit.Celsius) (time.Duration, error) {
	f, err := h.way(from, to)
	if err != nil {
		return 0, err
	}
	return waited(f.seconds(float64(from), float64(to)))
}

// After is the temperature when the flame has played so long. It is from if the
// heating cannot be reckoned with; what is no number stays none.
func (h Heating) After(from unit.Celsius, d time.Duration) unit.Celsius {
	if h.check() != nil || believable(from) != nil || d <= 0 {
		return from
	}
	return unit.Celsius(h.flow().after(float64(from), d.Seconds()))
}

// Biot is the Biot number with the coefficients of the flame and of radiation at t
// together, and 0 if that cannot be reckoned; see [Body.Biot].
func (h Heating) Biot(t unit.Celsius) float64 {
	if h.check() != nil || believable(t) != nil {
		return 0
	}
	return h.Body.Biot(h.Flame.H + radiationCoefficient(h.Emissivity, t.Kelvin(), h.Room.Kelvin()))
}
