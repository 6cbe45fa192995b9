package heat

import (
	"cmp"
	"math"

	"dullred/alloys/unit"
)

// Sight is whether an eye sees a glow. The zero Sight is that it does not.
type Sight uint8

// The sights.
const (
	NotSeen Sight = iota
	PerhapsSeen
	Seen
)

// String is the sight in words, such as "perhaps just visible".
func (s Sight) String() string {
	switch s {
	case PerhapsSeen:
		return "perhaps just visible"
	case Seen:
		return "visible"
	}
	return "not visible"
}

// Eye is who looks at a hot surface, in which light. The zero Eye sees nothing,
// since a surface of emissivity 0 gives no light.
type Eye struct {
	Light      Light   // an unknown one is taken as a bench lamp, which misleads
	Emissivity float64 // of the surface, 0 to 1
	Shade      float64 // filter shade of the eyewear, 0 for none
}

// roomLight is what a light does to an eye.
type roomLight struct {
	threshold   float64 // least luminance that the eye finds, cd/m²
	illuminance float64 // on the metal, lx
}

// roomLights hold the luminances of a perfect radiator at the points where red heat
// becomes visible (National Bureau of Standards, Bulletin 2, 1905, through a
// dictionary of units): 400 °C in the dark, 474 °C in the twilight, 525 °C in the
// daylight. Its fourth, 581 °C in the sunlight, is for no light of a workshop. That
// dim is its twilight and that a bench lamp is its daylight, and the illuminances,
// are judgements.
var roomLights = map[Light]roomLight{
	LightDark: {threshold: 3.8342e-5, illuminance: 0},
	LightDim:  {threshold: 1.0711e-3, illuminance: 5},
	LightLamp: {threshold: 7.5690e-3, illuminance: 500},
	LightDay:  {threshold: 7.5690e-3, illuminance: 2000},
}

// The share of the room light coming off the metal that the glow must exceed:
// perhaps seen from the first, surely from the second. Judgements.
const (
	perhapsShare = 0.02
	sureShare    = 0.05
)

// Sees is whether the eye sees a surface glow at a temperature. The glow must be
// above the least that an eye finds in that light, and above a share of the room
// light that the metal throws back, E(1-ε)/π. Eyewear dims both alike, so it only
// counts against the eye's own threshold.
func (e Eye) Sees(t unit.Celsius) Sight {
	glow := emitting(e.Emissivity) * luminance(t.Kelvin())
	switch {
	case glow > e.least(sureShare):
		return Seen
	case glow > e.least(perhapsShare):
		return PerhapsSeen
	}
	return NotSeen
}

// FirstSeen are the temperatures above which the eye perhaps and surely sees the
// surface glow. In the dark the two are one. A surface that gives no light never
// shows: both are then 10000 K.
func (e Eye) FirstSeen() (perhaps, sure unit.Celsius) {
	given := emitting(e.Emissivity)
	if given == 0 {
		never := unit.Kelvin(hottest).Celsius()
		return never, never
	}
	from, surely := e.least(perhapsShare)/given, e.least(sureShare)/given
	perhaps = temperatureOf(from)
	if surely == from {
		return perhaps, perhaps
	}
	return perhaps, temperatureOf(surely)
}

// least is the luminance in cd/m² that a glow must exceed, where it must be more
// than a part of what the metal throws back.
func (e Eye) least(part float64) float64 {
	room, known := roomLights[cmp.Or(e.Light, LightLamp)]
	if !known {
		room = roomLights[LightLamp]
	}
	thrownBack := room.illuminance * (1 - emitting(e.Emissivity)) / math.Pi
	return max(room.threshold/Transmittance(e.Shade), part*thrownBack)
}
