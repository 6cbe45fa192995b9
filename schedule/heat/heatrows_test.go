package heat

import (
	"math"
	"time"

	"dullred/alloys/unit"
)

// Metals as the worked examples give them: kg/m³, J/kgK, W/mK.
var (
	copperA1 = Metal{8933, 385, 401} // Incropera, table A.1, from memory
	silverA1 = Metal{10500, 235, 429}
	goldA1   = Metal{19300, 129, 317}
	brassA1  = Metal{8530, 380, 110}
)

// plateOf is a square metre that loses heat through both faces and no edge.
func plateOf(m Metal, thick unit.Millimetre) Body {
	return Body{Metal: m, Volume: metres(thick), Area: 2, Depth: thick}
}

func sphereOf(m Metal, diameter float64) Body {
	return Body{Metal: m, Volume: math.Pi / 6 * math.Pow(diameter, 3), Area: math.Pi * diameter * diameter}
}

func rodOf(m Metal, diameter float64) Body {
	return Body{Metal: m, Volume: math.Pi / 4 * diameter * diameter, Area: math.Pi * diameter}
}

// newton is a body that only convects, from a hot temperature to a cold one.
func newton(b Body, h, hot, cold, room float64) float64 {
	return taken(Cooling{Body: b, H: h, Room: unit.Celsius(room)}, hot, cold)
}

// way is a heating or a cooling.
type way interface {
	Time(from, to unit.Celsius) (time.Duration, error)
	After(from unit.Celsius, d time.Duration) unit.Celsius
}

// taken is how long a way takes, in s.
func taken(w way, from, to float64) float64 {
	d, err := w.Time(unit.Celsius(from), unit.Celsius(to))
	if err != nil {
		panic(err)
	}
	return d.Seconds()
}

// constant is the time constant of a body that only convects.
func constant(b Body, h float64) float64 { return newton(b, h, 100*math.E, 100, 0) }

// airly is h and Ra of a body of a form and a length in m, so many K hotter than the
// air; the examples round the film to a row of the table.
func airly(shape form, over, apart, film float64) (h, rayleigh float64) {
	a, p := air{shape: shape, over: over}, airAt(math.Log(film))
	return a.natural(p, apart), math.Exp(a.rayleighLog(p, apart))
}

// noAir is a coefficient of air, in W/m²K, that takes nothing away; 0 would be natural
// convection.
const noAir = 1e-12

// radiant is 1 mm of copper with emissivity 0.7 in a room at 20 °C.
func radiant(h float64) Cooling {
	return Cooling{Body: plateOf(copperA1, 1), Emissivity: 0.7, Room: 20, H: h}
}

// flux is a sheet under a flux that does not fall as it heats, 80 kW/m² on one face,
// and loses by radiation (0.6) and h = 10 on both.
func flux(thick unit.Millimetre) flow {
	c := Cooling{Body: plateOf(copperA1, thick), Emissivity: 0.6, Room: 20, H: 10}
	loss := c.loses(airOf(c.Body, c.Room, c.H))
	rate := func(t float64) float64 { return (80e3 - 2*loss(t)) / c.Body.capacity() }
	return flow{rate: rate, rest: restBetween(rate, 20, 4000)}
}

// heatRows are the worked examples of this part that are computed.
var heatRows = []example{
	{"T01", "the time constant of a sphere is linear in its diameter, so 1 s is that of 1/1417 m", func() []float64 {
		return []float64{1 / constant(sphereOf(Metal{8500, 400, 20}, 1), 400)}
	}},
	{"T02", "a hot gas all round is a flame on both faces and no radiation", func() []float64 {
		return []float64{taken(Heating{Body: sphereOf(Metal{8500, 400, 20}, 7.06e-4), Room: 25, Flame: Flame{Temp: 200, H: 400, Faces: 2}}, 25, 199)}
	}},
	{"T04", "an oven radiates as well: its walls are the room", func() []float64 {
		return []float64{taken(Heating{Body: plateOf(Metal{2770, 875, 177}, 3), Emissivity: 0.8, Room: 175, Flame: Flame{Temp: 175, H: 40, Faces: 2}}, 25, 150)}
	}},
	{"T06", "a sphere in air at 20 °C; 3000 kg/m³, 1000 J/kgK, k = 20 of the example", func() []float64 {
		return []float64{newton(sphereOf(Metal{3000, 1000, 20}, 0.01), 10, 400, 335, 20)}
	}},
	{"T08", "a steel ball: 7800 kg/m³, 460 J/kgK, k = 35 of the example", func() []float64 {
		return []float64{newton(sphereOf(Metal{7800, 460, 35}, 0.05), 10, 450, 150, 100)}
	}},
	{"T09", "both faces of a copper slab: 9000 kg/m³, 380 J/kgK of the example", func() []float64 {
		return []float64{newton(plateOf(Metal{9000, 380, 370}, 5), 90, 250, 90, 30)}
	}},
	{"T10", "a long rod; 7800 kg/m³, 460 J/kgK of the example", func() []float64 {
		return []float64{newton(rodOf(Metal{7800, 460, 40}, 0.01), 100, 320, 200, 120)}
	}},
	{"T12", "the time constant and a cooling; 8800 kg/m³, 400 J/kgK of the example", func() []float64 {
		b := plateOf(Metal{8800, 400, 360}, 2)
		return []float64{constant(b, 100), newton(b, 100, 400, 40, 25)}
	}},
	{"T18", "a standing plate, with its film at 400 K", func() []float64 {
		h, ra := airly(plate, 0.71, 232-23, 400)
		return []float64{ra, h, h * 1.02 * 0.71 * (232 - 23)}
	}},
	{"T19", "a lying cylinder that convects and radiates", func() []float64 {
		h, _ := airly(cylinder, 0.1, 165-23, 367)
		return []float64{math.Pi * 0.1 * (h*(165-23) + radiated(0.85, unit.Celsius(165).Kelvin(), unit.Celsius(23).Kelvin()))}
	}},
	{"T20", "the law alone, Ra = Gr Pr", func() []float64 {
		return []float64{cylinder.nusselt(math.Pow(0.69*2.63e9, 1.0/6), cylinder.factor(0.69))}
	}},
	{"T21", "the law alone, for a plate", func() []float64 {
		return []float64{plate.nusselt(math.Pow(0.69*2.63e9, 1.0/6), plate.factor(0.69))}
	}},
	{"T23", "a perfect radiator into nothing", func() []float64 { return []float64{radiated(1, 400, 0)} }},
	{"T24", "a grey body against warm walls", func() []float64 { return []float64{radiated(0.85, 400, 305)} }},
	{"T25", "a body that only radiates", func() []float64 { return []float64{taken(radiant(noAir), 600, 60)} }},
	{"T26", "the same, further down", func() []float64 { return []float64{taken(radiant(noAir), 600, 50)} }},
	{"T28", "nothing comes back from walls near 0 K", func() []float64 {
		c := radiant(noAir)
		c.Room = -273.1
		return []float64{taken(c, 600, 500-273.15)}
	}},
	{"T29", "radiation and a fixed coefficient", func() []float64 {
		return []float64{taken(radiant(10), 600, 100), taken(radiant(10), 600, 60)}
	}},
	{"T32", "a constant flux on one face of 1 mm", func() []float64 { return []float64{flux(1).seconds(20, 600)} }},
	{"T34", "the same on 3 mm", func() []float64 { return []float64{flux(3).seconds(20, 600)} }},
	{"T36", "the capacity of a gram", func() []float64 {
		var out []float64
		for _, m := range []Metal{copperA1, silverA1, brassA1, goldA1} {
			b := plateOf(m, 1)
			out = append(out, b.capacity()/float64(b.Mass())*(600-20))
		}
		return out
	}},
	{"T37", "half the thickness is volume over skin", func() []float64 { return []float64{plateOf(copperA1, 3).Biot(100)} }},
	{"T46", "1/e of the way to the room", func() []float64 { return []float64{constant(plateOf(copperA1, 1), 10)} }},
}

// notHeat are those that are not, and why.
var notHeat = map[string]string{
	"T38": noFeature + "a wire heated by a current",
	"T39": noFeature + "a pan that boils; no quench is timed",
	"T41": "a fact, nothing to compute: the Leidenfrost temperature",
	"T42": "a fact, nothing to compute: design times of a standard",
	"T44": noFeature + "the temperature of skin against metal; no touch is reckoned, and what is safe is a fixed 48 °C",
	"T45": "facts, nothing to compute: flames without any loss; BenchFlame is what is left of one",
}
