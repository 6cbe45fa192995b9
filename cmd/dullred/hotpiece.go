package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// hotFlags is the piece that the sums of cooling and of heating are about.
type hotFlags struct{ alloy, size, length, surface, emissivity, room string }

// hotNames are the flags of both sums.
var hotNames = []string{"alloy", "size", "length", "surface", "emissivity", "room"}

func (h *hotFlags) add(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&h.alloy, "alloy", "", "sum: metal by name, number or fineness")
	f.StringVar(&h.size, "size", "", "sum: `SECTION`, such as 2x30 or 3 round")
	f.StringVar(&h.length, "length", "", "sum: `LENGTH` (default a long piece whose ends do not count)")
	f.StringVar(&h.surface, "surface", "", "sum: clean, oxidised, fluxed or black")
	f.StringVar(&h.emissivity, "emissivity", "", "sum: your own `SHARE` of a perfect radiator, 0 to 1")
	f.StringVar(&h.room, "room", "20", "sum: `TEMPERATURE` of the room")
}

// hotPiece is a piece that was read.
type hotPiece struct {
	alloy alloys.Alloy
	heat.Body
	heat.Emissivity
	room unit.Celsius
	name string // in words
	from string // citation of the emissivity; empty for none
}

func (h hotFlags) parse(book *alloys.Book) (hotPiece, error) {
	var p hotPiece
	var err error
	if p.alloy, err = book.Find(h.alloy); err != nil {
		return p, err
	}
	if p.room, err = temperature("room", h.room); err != nil {
		return p, err
	}
	if p.Emissivity, err = h.skin(p.alloy); err != nil {
		return p, err
	}
	if src, ok := book.SourceOf(p.Source); ok && p.Published {
		p.from = workedLine("from", schedule.Cite(src))
	}
	p.Body, p.name, err = h.body(p.alloy)
	return p, err
}

func (h hotFlags) body(a alloys.Alloy) (b heat.Body, name string, err error) {
	size, err := unit.ParseSize(h.size, unit.Unshaped)
	if err != nil {
		return b, "", refuse("mend --size", "%w", err)
	}
	var length unit.Millimetre
	name = fmt.Sprintf("%s, %v", a.Name, size)
	if h.length != "" {
		if length, err = unit.ParseLength(h.length); err != nil {
			return b, "", refuse("mend --length", "%w", err)
		}
		name += fmt.Sprintf(", %v long", length)
	}
	m, err := heat.MetalOf(a)
	if err != nil {
		return b, "", refuse("reckon with the nearest metal that has one, and your own --emissivity", "%w", err)
	}
	if b, err = heat.BodyOf(m, size, length); err != nil {
		return b, "", refuse("mend --size or --length", "%w", err)
	}
	return b, name, nil
}

// skin is the smith's own emissivity, or that of the surface.
func (h hotFlags) skin(a alloys.Alloy) (heat.Emissivity, error) {
	if h.emissivity != "" {
		v, err := plainFigure(h.emissivity)
		if err != nil {
			return heat.Emissivity{}, refuse("mend --emissivity", "%w", err)
		}
		e, err := heat.OwnEmissivity(v)
		if err != nil {
			return e, refuse("mend --emissivity", "%w", err)
		}
		return e, nil
	}
	if h.surface == "" {
		return heat.Emissivity{}, refuse("give --surface clean, oxidised, fluxed or black, or --emissivity", "how it radiates depends on its surface")
	}
	s, err := heat.ParseSurface(h.surface)
	if err != nil {
		return heat.Emissivity{}, refuse("mend --surface, or give --emissivity", "%w", err)
	}
	e, ok := heat.EmissivityOf(a, s)
	if !ok {
		return e, refuse("give your own, such as --emissivity 0.6", "no emissivity is published for %s %s", s, a.Name)
	}
	return e, nil
}

func temperature(flag, text string) (unit.Celsius, error) {
	t, err := unit.ParseTemperature(text)
	if err != nil {
		return 0, refuse("mend --"+flag, "%w", err)
	}
	return t, nil
}

// plainFigure reads a figure without a unit; a comma is a point.
func plainFigure(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%.60q is not a figure", text)
	}
	return v, nil
}

// melts says in words that a heat is too high for the metal; it is empty below.
func (p hotPiece) melts(t unit.Celsius) string {
	c, ok := p.ceiling()
	if !ok || t < c.Solidus {
		return ""
	}
	return fmt.Sprintf("%v is not below the solidus of %s, %v: it begins to melt", t, p.alloy.Name, c.Solidus)
}

// ceiling is that of the wrought metal, else of it in whatever state is published.
func (p hotPiece) ceiling() (heat.Ceiling, bool) {
	for _, c := range []alloys.Condition{alloys.Wrought, "", alloys.Cast} {
		if ceiling, ok := heat.CeilingOf(p.alloy, c, nil, heat.DefaultMargin); ok {
			return ceiling, true
		}
	}
	return heat.Ceiling{}, false
}

// values says what was computed with.
func (p hotPiece) values() string {
	spread := ""
	if p.Emissivity.Low != p.Emissivity.High {
		spread = fmt.Sprintf("%.3g to %.3g, ", p.Emissivity.Low, p.Emissivity.High)
	}
	return fmt.Sprintf("emissivity %.3g (%s%s), room %v", p.Emissivity.Value, spread, p.Emissivity.Basis, p.room)
}

// given is whether any of some flags was typed.
func given(cmd *cobra.Command, names []string) bool {
	for _, n := range names {
		if cmd.Flags().Changed(n) {
			return true
		}
	}
	return false
}

// span is a time in words, to the second.
func span(d time.Duration) string {
	if d < time.Second {
		return "less than a second"
	}
	return unit.FormatDuration(d.Round(time.Second))
}
