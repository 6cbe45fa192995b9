package coldwork

import (
	"dullred/alloys"
	"dullred/alloys/unit"
)

// Band is a published range read off a curve. It is absent (ok = false) where
// nothing is published; no number is made up.
type Band struct {
	Low, High float64
	Source    string // key of the curve's source
	Form      alloys.Form
	OK        bool
}

// Temper is how hard the metal has become.
type Temper struct {
	Hardness   Band // HV
	Tensile    Band // MPa
	Elongation Band // fraction 0..1
}

// FormOf is the form whose published series speaks for a section: drawn wire
// for round bar, rolled strip for all others. The two are never mixed: the same
// strain leaves different hardness in each.
func FormOf(s Section) alloys.Form {
	if s.Shape == unit.Round {
		return alloys.Wire
	}
	return alloys.Strip
}

// TemperOf reads the published curves of an alloy in a form at the work done.
func TemperOf(a alloys.Alloy, f alloys.Form, done Estimate) Temper {
	elongation := read(a, alloys.Elongation, f, done)
	elongation.Low /= 100
	elongation.High /= 100
	return Temper{
		Hardness:   read(a, alloys.Hardness, f, done),
		Tensile:    read(a, alloys.Tensile, f, done),
		Elongation: elongation,
	}
}

// read gives the band at the work done, widened by what the work may be wrong
// by as far as the curve reaches.
func read(a alloys.Alloy, p alloys.Property, f alloys.Form, done Estimate) Band {
	c, ok := a.Curve(p, f)
	if !ok {
		return Band{}
	}
	low, high, ok := c.At(done.Strain)
	if !ok {
		return Band{}
	}
	for _, s := range []unit.Strain{done.Low(), done.High()} {
		if l, h, ok := c.At(s); ok {
			low, high = min(low, l), max(high, h)
		}
	}
	return Band{Low: low, High: high, Source: c.Source, Form: f, OK: true}
}
