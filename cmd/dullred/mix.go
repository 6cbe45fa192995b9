package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
)

func (a *app) mixCommand() *cobra.Command {
	var to string
	cmd := &cobra.Command{
		Use:   "mix MASS:METAL...",
		Short: "the fineness of scraps melted together, and what to add to reach another",
		Example: `  dullred mix 60g:925 20g:999 --to 950
  dullred mix 60g:sterling 12g:copper
  dullred mix 30g:835ag 10g:999`,
		Long: `mix reckons what scraps come to when they are melted together and nothing is
lost. METAL is a metal of dullred alloys, the symbol Ag, Au or Cu, or a fineness
with the symbol behind it, such as 835ag or 585au.`,
		Args: cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error { return a.mix(args, to) },
	}
	cmd.Flags().StringVar(&to, "to", "", "`FINENESS` to reach, in a thousand")
	return cmd
}

func (a *app) mix(args []string, to string) error {
	book, err := a.metals()
	if err != nil {
		return err
	}
	if len(args) == 0 {
		return refuse("dullred mix 60g:925 20g:999 --to 950", "mix needs scraps as MASS:METAL")
	}
	var parts []alloys.Part
	for _, arg := range args {
		part, err := parsePart(book, arg)
		if err != nil {
			return err
		}
		parts = append(parts, part)
	}
	m, err := alloys.Mix(parts)
	if err != nil {
		return asRefusal(err)
	}
	var add *alloys.Addition
	if to != "" {
		if add, err = reach(m, to); err != nil {
			return err
		}
	}
	if a.json {
		return a.printJSON(mixJSONOf(m, add))
	}
	a.printf("%s", mixText(m, to, add))
	return nil
}

// parsePart reads 60g:925.
func parsePart(book *alloys.Book, arg string) (alloys.Part, error) {
	const do = "write each scrap as MASS:METAL, such as 60g:925"
	mass, metal, found := strings.Cut(arg, ":")
	if !found {
		return alloys.Part{}, refuse(do, "%.60q names no metal", arg)
	}
	g, err := unit.ParseMass(mass)
	if err != nil {
		return alloys.Part{}, refuse(do, "%w", err)
	}
	of, err := parseMetal(book, metal)
	return alloys.Part{Mass: g, Of: of}, err
}

// parseMetal reads a metal of the book, an element, or a fineness with its metal.
func parseMetal(book *alloys.Book, text string) (alloys.Shares, error) {
	for _, element := range []string{alloys.Silver, alloys.Gold, alloys.Copper} {
		if strings.EqualFold(strings.TrimSpace(text), element) {
			return alloys.Shares{element: 1}, nil
		}
	}
	alloy, err := book.Find(text)
	if err == nil {
		shares, ok := alloy.Shares()
		if !ok {
			return nil, refuse("give its fineness, such as 835ag", "the composition of %s states no parts", alloy.Name)
		}
		return shares, nil
	}
	lower := strings.ToLower(strings.TrimSpace(text))
	for symbol, element := range map[string]string{"ag": alloys.Silver, "au": alloys.Gold} {
		if number, found := strings.CutSuffix(lower, symbol); found {
			if fineness, err := parseFineness(number); err == nil {
				return alloys.Shares{element: fineness}, nil
			}
		}
	}
	if _, isNumber := parseFineness(text); isNumber == nil {
		return nil, refuse(fmt.Sprintf("write %.20sag for silver or %.20sau for gold", text, text), "%.20q may be of silver or of gold", text)
	}
	return nil, err
}

// parseFineness reads parts in a thousand as a share of 1.
func parseFineness(s string) (float64, error) {
	f, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil || !(f > 0 && f <= 1000) {
		return 0, refuse("give parts in a thousand, such as 925", "%.60q is no fineness", s)
	}
	return f / 1000, nil
}

func reach(m alloys.Mixture, to string) (*alloys.Addition, error) {
	fineness, err := parseFineness(to)
	if err != nil {
		return nil, err
	}
	add, err := m.Reach(fineness)
	if err != nil {
		return nil, refuse("mend --to, or leave it away", "%w", err)
	}
	return &add, nil
}

// mixJSON has the fineness in a thousand, masses in g and the density in g/cm³.
// What is not known or not asked for is absent.
type mixJSON struct {
	Mass      float64  `json:"mass_g"`
	Metal     string   `json:"metal,omitempty"`
	Fineness  *float64 `json:"fineness,omitempty"`
	Density   *float64 `json:"density,omitempty"`
	AddFine   *float64 `json:"add_fine_g,omitempty"`
	AddCopper *float64 `json:"add_copper_g,omitempty"`
}

func mixJSONOf(m alloys.Mixture, add *alloys.Addition) mixJSON {
	j := mixJSON{Mass: figure(float64(m.Mass)), Metal: m.Precious()}
	if j.Metal != "" {
		j.Fineness = new(figure(1000 * m.Of[j.Metal]))
	}
	if m.Density > 0 {
		j.Density = new(figure(float64(m.Density)))
	}
	switch {
	case add == nil:
	case add.Copper > 0:
		j.AddCopper = new(figure(float64(add.Copper)))
	default:
		j.AddFine = new(figure(float64(add.Fine)))
	}
	return j
}

// preciousName is the metal in words.
var preciousName = map[string]string{alloys.Silver: "silver", alloys.Gold: "gold"}

func mixText(m alloys.Mixture, to string, add *alloys.Addition) string {
	var b strings.Builder
	line := func(head, text string) { b.WriteString(workedLine(head, text)) }
	line("mass", fmt.Sprintf("%.2f g", float64(m.Mass)))
	metal := preciousName[m.Precious()]
	if metal == "" {
		line("fineness", "none: no silver or gold in it")
	} else {
		line("fineness", fmt.Sprintf("%.1f in a thousand of %s, if nothing is lost in the melt", 1000*m.Of[m.Precious()], metal))
	}
	if m.Density > 0 {
		line("density", m.Density.String()+", silver and copper by volume")
	} else {
		line("density", "not reckoned: "+m.NoDensity)
	}
	if add != nil {
		line("add", additionText(metal, to, *add))
	}
	return b.String()
}

// additionText rounds so that the fineness is not missed from below.
func additionText(metal, to string, add alloys.Addition) string {
	switch {
	case add.Copper > 0:
		return fmt.Sprintf("at most %.2f g of copper, to come down to %s", math.Floor(100*float64(add.Copper)+1e-6)/100, to)
	case add.Fine > 0:
		return fmt.Sprintf("%.2f g of fine %s (%g), to come up to %s", math.Ceil(100*float64(add.Fine)-1e-6)/100, metal, alloys.FineMetal*1000, to)
	}
	return "nothing: it is " + to + " already"
}
