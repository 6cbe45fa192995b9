package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/schedule"
)

func (a *app) soldersCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "solders",
		Short: "the silver solders, those with cadmium last",
		Args:  names(),
		RunE: func(*cobra.Command, []string) error {
			book, err := a.metals()
			if err != nil {
				return err
			}
			return a.listSolders(book.Solders())
		},
	}
}

// solderJSON is one solder for a machine. The three heats are never taken for
// one another, so each is a figure of its own.
type solderJSON struct {
	ID          string       `json:"id"`
	Name        string       `json:"name"`
	Names       []string     `json:"names"`
	Composition string       `json:"composition"`
	Hazard      string       `json:"hazard,omitempty"`
	Own         bool         `json:"own,omitempty"`
	Figures     []figureJSON `json:"figures,omitempty"`
}

func solderJSONOf(s alloys.Solder) solderJSON {
	return solderJSON{ID: string(s.ID), Name: s.Name, Names: list(s.Names), Composition: s.Composition, Hazard: string(s.Hazard), Own: s.Own}
}

func (a *app) listSolders(all []alloys.Solder) error {
	if a.json {
		out := make([]solderJSON, 0, len(all))
		for _, s := range all {
			out = append(out, solderJSONOf(s))
		}
		return a.printJSON(out)
	}
	for _, s := range all {
		text := s.Composition
		if s.Hazard == alloys.Cadmium {
			text = "CADMIUM, do not use; " + text
		}
		a.printf("%s", wrap("", strings.Repeat(" ", 12), fmt.Sprintf("%s: %s, %s%s", s.ID, s.Name, text, ownMark(s.Own))))
	}
	a.printf("dullred alloys NAME shows one with its solidus, liquidus and flow point\n")
	return nil
}

// cadmiumHazard is said before anything else of a solder that gives it off.
const cadmiumHazard = "HAZARD: cadmium. Its fume poisons: do not heat it, do not solder with it, keep it off the bench."

// solderHeats is the order in which the heats of a solder are shown.
var solderHeats = []struct {
	property     alloys.Property
	title, empty string
}{
	{alloys.Solidus, "solidus (a joint lets go here)", "not published, so no margin can be reckoned"},
	{alloys.Liquidus, "liquidus (wholly molten)", "not published"},
	{alloys.Flow, "flow point (runs into the joint; neither of the two)", "not published"},
}

func (a *app) showSolder(book *alloys.Book, s alloys.Solder) error {
	if a.json {
		j := solderJSONOf(s)
		for _, h := range solderHeats {
			for _, f := range s.Figures(h.property) {
				j.Figures = append(j.Figures, figureJSONOf(f))
			}
		}
		return a.printJSON(j)
	}
	if s.Hazard == alloys.Cadmium {
		a.printf("%s", wrap("", "  ", cadmiumHazard))
	}
	a.printf("%s", wrap("", "  ", fmt.Sprintf("%s (%s), solder, %s; found as %s%s", s.Name, s.ID, s.Composition, strings.Join(s.Names, ", "), ownMark(s.Own))))
	used := map[string]bool{}
	for _, h := range solderHeats {
		figures := s.Figures(h.property)
		if len(figures) == 0 {
			a.printf("%s: %s\n", h.title, h.empty)
			continue
		}
		a.printf("%s\n", h.title)
		a.printFigures(figures, used, s.Own)
	}
	a.printSources(book, used)
	return nil
}

// printSources spells out the sources that were named.
func (a *app) printSources(book *alloys.Book, used map[string]bool) {
	a.printf("sources\n")
	for _, s := range book.Sources() {
		if used[s.Key] {
			a.printf("%s", wrap("  ", "      ", schedule.Cite(s)))
		}
	}
}
