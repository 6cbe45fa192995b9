package main

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// softenFlags is what soften was given.
type softenFlags struct{ alloy, worked, temp, soak, emissivity string }

func (a *app) softenCommand() *cobra.Command {
	var s softenFlags
	cmd := &cobra.Command{
		Use:   "soften --alloy c26000 --worked 33% --temp 580 --soak 8s",
		Short: "how soft a soak leaves worked metal, as published observations allow",
		Args:  names(),
		RunE:  func(*cobra.Command, []string) error { return a.soften(s) },
	}
	f := cmd.Flags()
	f.StringVar(&s.alloy, "alloy", "", "metal by name, number or fineness")
	f.StringVar(&s.worked, "worked", "", "`REDUCTION` of thickness since it was last soft: 33%, 0.33 (or \"60% area\")")
	f.StringVar(&s.temp, "temp", "", "`TEMPERATURE` of the metal: 580C, 1076F")
	f.StringVar(&s.emissivity, "emissivity", "", "as on the other sums of heat; softening goes by the temperature that is held, so it changes nothing here")
	f.StringVar(&s.soak, "soak", "", "`TIME` it is held there: 8s, 30 min, 1h")
	return cmd
}

// soak is a worked metal held at one temperature.
type soak struct {
	alloy  alloys.Alloy
	worked unit.Reduction
	temp   unit.Celsius
	held   time.Duration
}

func (a *app) soften(s softenFlags) error {
	book, err := a.metals()
	if err != nil {
		return err
	}
	k, err := s.parse(book)
	if err != nil {
		return err
	}
	j := k.reckon()
	if a.json {
		return a.printJSON(j)
	}
	a.printf("%s", k.text(j))
	return nil
}

func (s softenFlags) parse(book *alloys.Book) (soak, error) {
	var k soak
	if s.alloy == "" || s.worked == "" || s.temp == "" || s.soak == "" {
		return k, refuse("dullred soften --alloy c26000 --worked 33% --temp 580 --soak 8s", "soften needs --alloy, --worked, --temp and --soak")
	}
	var err error
	if k.alloy, err = book.Find(s.alloy); err != nil {
		return k, err
	}
	if s.emissivity != "" {
		if _, err := (hotFlags{emissivity: s.emissivity}).skin(k.alloy); err != nil {
			return k, err
		}
	}
	if k.worked, err = parseWorked(s.worked); err != nil {
		return k, refuse("mend --worked", "%w", err)
	}
	if k.temp, err = unit.ParseTemperature(s.temp); err != nil {
		return k, refuse("mend --temp", "%w", err)
	}
	if k.held, err = unit.ParseDuration(s.soak); err != nil {
		return k, refuse("mend --soak", "%w", err)
	}
	if f, ok := k.alloy.Default(alloys.Solidus, alloys.Wrought); ok && k.temp >= unit.Celsius(f.Low) {
		return k, refuse("give the heat that it is annealed at", "%s melts: it starts to at %v, and %v is no anneal", k.alloy.Name, unit.Celsius(f.Low), k.temp)
	}
	return k, nil
}

// parseWorked reads a reduction. A bare number from 1 to 2 is sooner a slip for a
// fraction than a hundredth part.
func parseWorked(text string) (unit.Reduction, error) {
	plain := strings.ReplaceAll(strings.TrimSpace(text), ",", ".")
	if v, err := strconv.ParseFloat(plain, 64); err == nil && v >= 1 && v < 2 {
		return unit.Reduction{}, fmt.Errorf("%.60q as a fraction is all of the thickness or more; as per cent it is written with the sign", text)
	}
	return unit.ParseReduction(text, unit.ThicknessKind)
}

// softenJSON holds fractions 0..1 and equivalent true strains; what nobody
// published is null.
type softenJSON struct {
	Low     *float64 `json:"softened_low"`
	Likely  *float64 `json:"softened_likely"`
	High    *float64 `json:"softened_high"`
	Left    *float64 `json:"strain_left"`
	Strain  float64  `json:"strain"`
	State   string   `json:"state"`
	Anchor  *string  `json:"anchor"`
	Outside *string  `json:"outside"`
	Verdict string   `json:"verdict"`
}

func (k soak) reckon() softenJSON {
	strain := k.worked.Strain()
	j := softenJSON{Strain: figure(float64(strain)), State: heat.Unknown.String()}
	given := heat.HeatGiven{Alloy: k.alloy, Condition: alloys.Wrought, Worked: strain, Hottest: k.temp, Held: k.held}
	kin, ok := heat.KineticsOf(k.alloy)
	switch {
	case k.alloy.SelfSoftening:
		j.Verdict = heat.Unpublished(k.alloy)
		return j
	case !ok:
		j.Verdict = heat.Verdict(given)
		return j
	}
	s := kin.Soften(strain, []heat.Span{{Temp: k.temp, For: k.held}})
	j.Low, j.Likely, j.High = new(figure(s.Low)), new(figure(s.Likely)), new(figure(s.High))
	j.Left = new(figure(float64(s.Left(strain))))
	j.State, j.Anchor = heat.Judge(s).String(), new(kin.Basis())
	if words := kin.Within(strain, k.temp); words != "" {
		j.Outside = &words
		given.Outside = words
	}
	given.Softened, given.Known = s, true
	j.Verdict = heat.Verdict(given)
	return j
}

func (k soak) text(j softenJSON) string {
	var b strings.Builder
	line := func(head, format string, args ...any) {
		b.WriteString(workedLine(head, fmt.Sprintf(format, args...)))
	}
	b.WriteString(wrap("", "  ", fmt.Sprintf("%s, %v off, at %v for %s", k.alloy.Name, k.worked, k.temp, unit.FormatDuration(k.held))))
	line("heat", "%s", j.Verdict)
	switch {
	case k.alloy.SelfSoftening:
		return b.String()
	case j.State == heat.SoftLikely.String():
		line("state", "%s by the sum; prove it by bending", j.State)
	default:
		line("state", "%s", j.State)
	}
	switch {
	case j.Likely == nil:
		line("softened", "%s", heat.Unpublished(k.alloy))
		line("left", "strain left: not known, so %.3f counts until it bends dead", j.Strain)
	default:
		line("softened", "about %.0f %%, as little as %.0f and as much as %.0f", 100**j.Likely, 100**j.Low, 100**j.High)
		line("left", "strain left: about %.3f of %.3f", *j.Left, j.Strain)
		line("from", "%s", *j.Anchor)
	}
	if j.Outside != nil {
		line("outside", "%s", *j.Outside)
	}
	if words := heat.Spare(k.worked.Strain()); words != "" && words != j.Verdict {
		line("advice", "%s", words)
	}
	return b.String()
}
