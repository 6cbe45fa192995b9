package heat

import (
	"cmp"
	"fmt"
	"math"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// Metal is what heat needs to know of an alloy, near room temperature.
type Metal struct {
	Density      float64 // kg/m³
	SpecificHeat float64 // J/kgK
	Conductivity float64 // W/mK
}

// MetalOf are the published figures of an alloy. The error names the one that
// nobody published.
func MetalOf(a alloys.Alloy) (Metal, error) {
	var values [3]float64
	for i, p := range []alloys.Property{alloys.Density, alloys.SpecificHeat, alloys.Conductivity} {
		f, ok := a.Default(p, "")
		if !ok {
			return Metal{}, fmt.Errorf("no %s is published for %s, so its heat cannot be reckoned", named(p), a.Name)
		}
		values[i] = (f.Low + f.High) / 2
	}
	return Metal{Density: 1000 * values[0], SpecificHeat: values[1], Conductivity: values[2]}, nil
}

// named is a property of [Metal] in words.
func named(p alloys.Property) string {
	return map[alloys.Property]string{alloys.Density: "density", alloys.SpecificHeat: "specific heat",
		alloys.Conductivity: "heat conductivity"}[p]
}

// diffusivity is k/(ρc) in m²/s: how fast heat evens out.
func (m Metal) diffusivity() float64 { return m.Conductivity / (m.Density * m.SpecificHeat) }

// Body is metal of a size.
type Body struct {
	Metal
	Volume float64         // m³
	Area   float64         // m², all of its skin
	Length unit.Millimetre // 0 when it is not known
	Depth  unit.Millimetre // the thinnest way through
}

// BodyOf is a plain piece of one section and a length. Without a length (0) it is
// a metre of a long piece, whose ends do not count. Sheet is as wide as it is long.
func BodyOf(m Metal, size unit.Size, length unit.Millimetre) (Body, error) {
	if err := size.Check(); err != nil {
		return Body{}, err
	}
	if length != 0 && !(length >= unit.MinLength && length <= unit.MaxLength) {
		return Body{}, fmt.Errorf("a length of %v is not believable", length)
	}
	l := cmp.Or(metres(length), 1)
	if size.Shape == unit.Sheet {
		size = unit.Size{Shape: unit.Rectangular, Thick: size.Thick, Width: unit.Millimetre(1000 * l)}
	}
	area, perimeter, depth := section(size)
	if !(area > 0) {
		return Body{}, fmt.Errorf("a %v section has no area that a mass could be reckoned from; give it as thickness x width", size.Shape)
	}
	skin := perimeter * l
	if length > 0 {
		skin += 2 * area
	}
	return Body{Metal: m, Volume: area * l, Area: skin, Length: length, Depth: depth}, nil
}

// section is the area in m², the perimeter in m and the thinnest way through.
func section(z unit.Size) (area, perimeter float64, depth unit.Millimetre) {
	t, w, d := metres(z.Thick), metres(z.Width), metres(z.Diameter)
	switch z.Shape {
	case unit.Rectangular:
		return t * w, 2 * (t + w), min(z.Thick, z.Width)
	case unit.Square:
		return t * t, 4 * t, z.Thick
	case unit.Round:
		return math.Pi * d * d / 4, math.Pi * d, z.Diameter
	case unit.Ring:
		return t * w, 2 * (t + w), min(z.Thick, z.Width)
	case unit.Tube:
		inner := d - 2*t
		return math.Pi * (d*d - inner*inner) / 4, math.Pi * d, z.Thick
	}
	return 0, 0, 0
}

// metres is a length in m.
func metres(l unit.Millimetre) float64 { return float64(l) / 1000 }

// ratio is volume over skin in m, the length of the Biot number of a lumped body.
func (b Body) ratio() float64 { return b.Volume / b.Area }

// capacity is ρcV in J/K.
func (b Body) capacity() float64 { return b.Density * b.SpecificHeat * b.Volume }

// Mass is in g.
func (b Body) Mass() unit.Gram { return unit.Gram(1000 * b.Density * b.Volume) }

// Biot is h (V/A)/k for a heat transfer coefficient in W/m²K. Below 0.1 one
// temperature stands for the whole thickness (Incropera, ch. 5.2). It is 0 for a body
// of no size or metal, of which nothing can be said.
func (b Body) Biot(h float64) float64 {
	if !(b.Area > 0 && b.Conductivity > 0) {
		return 0
	}
	return h * b.ratio() / b.Conductivity
}
