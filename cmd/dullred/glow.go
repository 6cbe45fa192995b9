package main

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// usualMetal is the metal of a surface that was named without one.
const usualMetal = "sterling"

// darkestShade is the last number of the welding filters (from memory).
const darkestShade = 16

// glowFlags is what glow was given.
type glowFlags struct {
	temp, surface, alloy, emissivity, light, shade string
	skinned                                        bool // the surface was named
}

func (a *app) glowCommand() *cobra.Command {
	var g glowFlags
	cmd := &cobra.Command{
		Use:   "glow --temp 650 --surface oxidised --light lamp",
		Short: "how a heat glows, whether it is seen, and what it is called",
		Args:  names(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			g.skinned = cmd.Flags().Changed("surface")
			return a.glow(g)
		},
	}
	f := cmd.Flags()
	f.StringVar(&g.temp, "temp", "", "`TEMPERATURE` of the metal: 650C, 1200F")
	f.StringVar(&g.surface, "surface", string(heat.Black), "skin of the metal: black (a perfect radiator), clean, oxidised or fluxed")
	f.StringVar(&g.alloy, "alloy", "", "metal by name, number or fineness (default: sterling)")
	f.StringVar(&g.emissivity, "emissivity", "", "`SHARE` of a perfect radiator's light, above 0 to 1, in place of the published one")
	f.StringVar(&g.light, "light", "lamp", "light of the room: dark, dim, lamp or daylight")
	f.StringVar(&g.shade, "shade", "", "filter `NUMBER` of the eyewear, 1 to 16 (default: none)")
	return cmd
}

// glowing is a hot surface and who looks at it.
type glowing struct {
	temp       unit.Celsius
	emissivity heat.Emissivity
	surface    string // in words
	eye        heat.Eye
}

func (a *app) glow(g glowFlags) error {
	book, err := a.metals()
	if err != nil {
		return err
	}
	s, err := g.parse(book)
	if err != nil {
		return err
	}
	if a.json {
		return a.printJSON(s.json())
	}
	a.printf("%s", s.text())
	return nil
}

func (g glowFlags) parse(book *alloys.Book) (glowing, error) {
	var s glowing
	if g.temp == "" {
		return s, refuse("dullred glow --temp 650 --surface oxidised --light lamp", "glow needs --temp")
	}
	var err error
	if s.temp, err = unit.ParseTemperature(g.temp); err != nil {
		return s, refuse("mend --temp", "%w", err)
	}
	if s.eye.Light, err = heat.ParseLight(g.light); err != nil {
		return s, refuse("mend --light", "%w", err)
	}
	if s.eye.Shade, err = g.filter(); err != nil {
		return s, err
	}
	if s.surface, s.emissivity, err = g.skin(book); err != nil {
		return s, err
	}
	s.eye.Emissivity = s.emissivity.Value
	return s, nil
}

// filter is the shade of the eyewear, 0 for none.
func (g glowFlags) filter() (float64, error) {
	if g.shade == "" {
		return 0, nil
	}
	v, err := number(g.shade)
	if err != nil || v != 0 && !(v >= 1 && v <= darkestShade) {
		return 0, refuse("mend --shade, or leave it away for none", "%.60q is no filter shade: they go from 1 to %d", g.shade, darkestShade)
	}
	return v, nil
}

// skin is the surface in words and its emissivity: the smith's own, else the
// published one.
func (g glowFlags) skin(book *alloys.Book) (string, heat.Emissivity, error) {
	var none heat.Emissivity
	if g.alloy != "" && !g.skinned && g.emissivity == "" {
		return "", none, refuse("--surface clean, oxidised, fluxed or black", "how %s glows depends on its surface", g.alloy)
	}
	surface, err := heat.ParseSurface(g.surface)
	if err != nil {
		return "", none, refuse("mend --surface", "%w", err)
	}
	metal, err := book.Find(cmp.Or(g.alloy, usualMetal))
	if err != nil {
		return "", none, err
	}
	if g.emissivity != "" {
		e, err := ownEmissivity(g.emissivity)
		return g.ownWords(surface, metal), e, err
	}
	words := glowWords(surface, metal, g.alloy == "")
	e, ok := heat.ShineOf(metal, surface)
	if !ok {
		return "", none, refuse("give your own with --emissivity, such as 0.6", "no emissivity is published for %s %s", surface, metal.Name)
	}
	return words, e, nil
}

// ownWords are of a surface whose emissivity the smith gave: no perfect radiator.
func (g glowFlags) ownWords(surface heat.Surface, metal alloys.Alloy) string {
	switch {
	case !g.skinned && g.alloy == "":
		return "a surface of your own emissivity"
	case !g.skinned:
		return metal.Name + " of your own emissivity"
	case surface == heat.Black && g.alloy == "":
		return "black, of your own emissivity"
	case surface == heat.Black:
		return "black " + metal.Name
	}
	return glowWords(surface, metal, g.alloy == "")
}

func ownEmissivity(text string) (heat.Emissivity, error) {
	v, err := plainFigure(strings.TrimSpace(text))
	if err != nil {
		return heat.Emissivity{}, refuse("mend --emissivity: a number above 0 and at most 1", "%w", err)
	}
	e, err := heat.OwnEmissivity(v)
	if err != nil {
		return heat.Emissivity{}, refuse("mend --emissivity", "%w", err)
	}
	return e, nil
}

// number reads a plain number with a decimal point or comma.
func number(text string) (float64, error) {
	return strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
}

func glowWords(s heat.Surface, metal alloys.Alloy, usual bool) string {
	switch {
	case s == heat.Black:
		return "black, a perfect radiator, which no metal quite is"
	case usual:
		return fmt.Sprintf("%s %s, since no --alloy is named", s, metal.Name)
	}
	return fmt.Sprintf("%s %s", s, metal.Name)
}

// glowJSON holds cd/m² of the surface and °C.
type glowJSON struct {
	X          float64    `json:"x"`
	Y          float64    `json:"y"`
	Luminance  float64    `json:"luminance"`
	Emissivity float64    `json:"emissivity"`
	Visible    bool       `json:"visible"`
	Sight      string     `json:"sight"`
	Perhaps    float64    `json:"perhaps_visible_from_c"`
	Sure       float64    `json:"visible_from_c"`
	SRGB       string     `json:"srgb"`
	Clipped    bool       `json:"clipped"`
	Words      []wordJSON `json:"words"`
}

type wordJSON struct {
	Scale string `json:"scale"`
	Word  string `json:"word"`
}

func (s glowing) json() glowJSON {
	g, sight := heat.GlowAt(s.temp, s.emissivity.Value), s.eye.Sees(s.temp)
	perhaps, sure := s.eye.FirstSeen()
	j := glowJSON{X: figure(g.X), Y: figure(g.Y), Luminance: sevenFigures(g.Luminance), Emissivity: figure(s.emissivity.Value),
		Visible: sight == heat.Seen, Sight: sight.String(), Perhaps: figure(float64(perhaps)), Sure: figure(float64(sure)),
		SRGB: g.SRGB, Clipped: g.Clipped, Words: []wordJSON{}}
	for _, w := range heat.Words(s.temp) {
		j.Words = append(j.Words, wordJSON{w.Scale, w.Word})
	}
	return j
}

// sevenFigures rounds to seven figures, however small a number is.
func sevenFigures(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 6, 64), 64)
	if err != nil {
		return v
	}
	return r
}

func (s glowing) text() string {
	var b strings.Builder
	line := func(head, format string, args ...any) { b.WriteString(workedLine(head, fmt.Sprintf(format, args...))) }
	g := heat.GlowAt(s.temp, s.emissivity.Value)
	b.WriteString(wrap("", "  ", fmt.Sprintf("%v (%.0f °F), %s", s.temp, s.temp.Fahrenheit(), s.surface)))
	line("light", "%s", s.lightWords())
	line("seen", "%s", s.sightWords())
	line("glow", "%.3g cd/m², colour x %.4f, y %.4f", g.Luminance, g.X, g.Y)
	line("radiates", "emissivity %s", emissivityWords(s.emissivity))
	line("swatch", "%s", swatchWords(g))
	words := heat.Words(s.temp)
	if len(words) == 0 {
		line("words", "no published list has a word for it")
	}
	for i, w := range words {
		line(map[bool]string{true: "words"}[i == 0], "%s: %s", w.Scale, w.Word)
	}
	return b.String()
}

func (s glowing) lightWords() string {
	if s.eye.Shade < 1 {
		return string(s.eye.Light)
	}
	return fmt.Sprintf("%s, through a filter of shade %g, which lets %.2g %% of it pass", s.eye.Light, s.eye.Shade, 100*heat.Transmittance(s.eye.Shade))
}

func (s glowing) sightWords() string {
	perhaps, sure := s.eye.FirstSeen()
	from := fmt.Sprintf("it shows from about %.0f °C", perhaps)
	if sure-perhaps >= 1 {
		from += fmt.Sprintf(", surely from %.0f °C", sure)
	}
	switch s.eye.Sees(s.temp) {
	case heat.Seen:
		return "visible in this light: " + from
	case heat.PerhapsSeen:
		return "perhaps just visible in this light: " + from
	}
	return "in this light you should not see red at all: " + from
}

func emissivityWords(e heat.Emissivity) string {
	if e.Low == e.High {
		return fmt.Sprintf("%g (%s)", e.Value, e.Basis)
	}
	return fmt.Sprintf("%.3g, the middle of %g to %g (%s)", e.Value, e.Low, e.High, e.Basis)
}

func swatchWords(g heat.Glow) string {
	switch {
	case g.Luminance == 0 || g.SRGB == "#000000":
		return g.SRGB + ", too faint for any eye"
	case g.Clipped:
		return g.SRGB + ", a label, not a colour standard: clipped"
	}
	return g.SRGB + ", a label, not a colour standard"
}
