package heat

import (
	"math"

	"dullred/alloys/unit"
)

// gravity is in m/s² (the standard value).
const gravity = 9.80665

// airRow is still air at one temperature and one atmosphere.
type airRow struct{ kelvin, conductivity, viscosity, prandtl float64 }

// airTable is dry air: Incropera, table A.4, as the worked examples of chapter 9
// use it up to 400 K; the rows at 600 and 800 K are from memory. Conductivity in
// W/mK, kinematic viscosity in m²/s.
var airTable = [...]airRow{
	{303, 0.0265, 16.2e-6, 0.71},
	{350, 0.0300, 20.92e-6, 0.70},
	{367, 0.0313, 22.8e-6, 0.697},
	{400, 0.0338, 26.4e-6, 0.69},
	{600, 0.0469, 52.69e-6, 0.685},
	{800, 0.0573, 84.93e-6, 0.709},
}

// form is a shape that Churchill and Chu gave a law of natural convection for:
// Nu = (still + 0.387 Ra^(1/6) / [1 + (shift/Pr)^(9/16)]^(8/27))².
type form struct{ still, shift float64 }

// The forms (Churchill & Chu 1975, through Incropera eq. 9.26 and 9.34).
var (
	cylinder = form{0.60, 0.559}  // lying, over its diameter
	plate    = form{0.825, 0.492} // standing, over its height
)

// factor is what the law divides 0.387 Ra^(1/6) by.
func (f form) factor(prandtl float64) float64 {
	return math.Pow(1+math.Pow(f.shift/prandtl, 9.0/16), 8.0/27)
}

// nusselt is the law, of the sixth root of Ra.
func (f form) nusselt(root, factor float64) float64 {
	n := f.still + 0.387*root/factor
	return n * n
}

// logged is the table in logarithms, ready to be interpolated: between two rows
// conductivity, viscosity and Pr follow a power of the temperature. Beyond the
// last row on either side the power goes on for the first two, and Pr is held.
type logged struct{ kelvin, conductivity, viscosity, prandtl, cylinder, plate float64 }

var airLogs = func() (out [len(airTable)]logged) {
	for i, r := range airTable {
		out[i] = logged{math.Log(r.kelvin), math.Log(r.conductivity), math.Log(r.viscosity), math.Log(r.prandtl),
			cylinder.factor(r.prandtl), plate.factor(r.prandtl)}
	}
	return out
}()

// airAt is the table at the logarithm of a temperature in K. The factors of Pr,
// which vary by a hundredth, are interpolated as they stand.
func airAt(ln float64) logged {
	i := 1
	for i < len(airLogs)-1 && ln > airLogs[i].kelvin {
		i++
	}
	a, b := &airLogs[i-1], &airLogs[i]
	x := (ln - a.kelvin) / (b.kelvin - a.kelvin)
	held := min(max(x, 0), 1)
	mix := func(p, q, x float64) float64 { return p + (q-p)*x }
	return logged{ln, mix(a.conductivity, b.conductivity, x), mix(a.viscosity, b.viscosity, x), mix(a.prandtl, b.prandtl, held),
		mix(a.cylinder, b.cylinder, held), mix(a.plate, b.plate, held)}
}

// air is how the air takes heat from a skin: at a fixed coefficient, or by itself.
type air struct {
	fixed float64 // W/m²K; 0 is natural convection
	room  float64 // °C
	shape form
	over  float64 // m, the length of the law
}

// airOf is the air about a body. A strip wider than three times its thickness is
// taken as a plate that stands upright, as high as it is long or wide, whichever is
// more; everything else as a lying cylinder of the same perimeter. The higher a
// plate the less it loses: metal is taken to be hot for longer rather than for
// less. The choice is a judgement, and radiation outweighs it at annealing heat.
func airOf(b Body, room unit.Celsius, fixed float64) air {
	a := air{fixed: fixed, room: float64(room), shape: cylinder}
	length, around := metres(b.Length), b.around()
	if length == 0 {
		length = 1
	}
	a.over = around / math.Pi
	deep := metres(b.Depth)
	if wide := b.Volume / length / deep; deep > 0 && wide > 3*deep && math.Abs(2*(wide+deep)/around-1) < 0.05 {
		a.shape, a.over = plate, max(wide, metres(b.Length))
	}
	return a
}

// around is the perimeter in m of a body whose skin includes its two ends; without a
// length it is a metre of a piece, whose ends do not count.
func (b Body) around() float64 {
	length := metres(b.Length)
	if length == 0 {
		return b.Area
	}
	if around := (b.Area - 2*b.Volume/length) / length; around > 0 {
		return around
	}
	return b.Area / length
}

// rayleighLog is ln Ra at a film of air p between a skin and the room, which are
// apart by so many K: Ra = gβ ΔT L³ Pr/ν² with β = 1/T of an ideal gas.
func (a air) rayleighLog(p logged, apart float64) float64 {
	return math.Log(gravity*apart*a.over*a.over*a.over) - p.kelvin - 2*p.viscosity + p.prandtl
}

// coefficient is in W/m²K for a skin at t °C, with the air's figures at the mean of
// skin and room.
func (a air) coefficient(t float64) float64 {
	if a.fixed > 0 {
		return a.fixed
	}
	return a.natural(airAt(math.Log((t+a.room)/2-float64(unit.AbsoluteZero))), math.Abs(t-a.room))
}

// natural is the coefficient by itself, with a film p and so many K across it.
func (a air) natural(p logged, apart float64) float64 {
	factor := p.cylinder
	if a.shape == plate {
		factor = p.plate
	}
	sixth := math.Exp(a.rayleighLog(p, apart) / 6)
	return a.shape.nusselt(sixth, factor) * math.Exp(p.conductivity) / a.over
}

// kinks are the skin temperatures in °C where the figures of the air turn a
// corner, and the room's, where the convection turns round.
func (a air) kinks() []float64 {
	if a.fixed > 0 {
		return nil
	}
	out := make([]float64, 0, len(airTable)+1)
	out = append(out, a.room)
	for _, r := range airTable {
		out = append(out, 2*(r.kelvin+float64(unit.AbsoluteZero))-a.room)
	}
	// The room lies anywhere among them.
	for i := 0; i+1 < len(out) && out[i] > out[i+1]; i++ {
		out[i], out[i+1] = out[i+1], out[i]
	}
	return out
}
