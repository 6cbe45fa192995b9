package tui

import (
	"github.com/gdamore/tcell/v2"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/tui/term"
	"dullred/tui/view"
)

// styled is how figures are written on the page: what people typed stays as it is.
func (b *Bench) styled() unit.Style {
	if b.style.Plain() {
		return b.style
	}
	var typed []string
	for _, p := range b.pieces {
		typed = append(typed, p.name, p.state().Mark)
		for _, z := range p.state().Zones {
			typed = append(typed, z.Name)
		}
	}
	for _, hand := range b.hands {
		typed = append(typed, hand)
	}
	for _, bench := range b.benches {
		typed = append(typed, bench)
	}
	if p := b.current(); p != nil {
		for _, e := range p.entries {
			if n, ok := e.Body.(schedule.Note); ok {
				typed = append(typed, n.Text)
			}
		}
	}
	return b.style.Keeping(typed...)
}

// styleOf is how a terminal with so many colours shows a role.
func styleOf(theme view.Theme, r view.Role, depth term.Depth) tcell.Style {
	ink, style := theme.Ink(r), tcell.StyleDefault
	switch depth {
	case term.Mono:
		return style.Bold(ink.Bold).Reverse(ink.Reverse).Underline(ink.Underline)
	case term.Colour8:
		return style.Foreground(tcell.PaletteColor(int(ink.Fg8))).Background(tcell.PaletteColor(int(ink.Bg8))).
			Bold(ink.Bold).Underline(ink.Underline)
	}
	return style.Foreground(colour(ink.Fg)).Background(colour(ink.Bg))
}

func colour(c view.RGB) tcell.Color {
	return tcell.NewRGBColor(int32(c.R), int32(c.G), int32(c.B))
}

// inks are the styles of the roles in one theme.
type inks [view.Glow5 + 1]tcell.Style

// styles are the inks of every theme, made when they are first asked for.
type styles struct {
	depth  term.Depth
	themes [view.Hearth + 1]*inks
}

func newStyles(depth term.Depth) *styles { return &styles{depth: depth} }

func (s *styles) of(theme view.Theme) *inks {
	if s.themes[theme] == nil {
		made := new(inks)
		for r := range made {
			made[r] = styleOf(theme, view.Role(r), s.depth)
		}
		s.themes[theme] = made
	}
	return s.themes[theme]
}
