package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"dullred/schedule"
)

// whyJSON is the advice with the sum behind it.
type whyJSON struct {
	adviceJSON
	Why []schedule.Why `json:"why"` // the picture, where there is one, is the last, its rows parted by line ends
}

// adviseWhy prints the sum behind the advice for one piece.
func (a *app) adviseWhy(name string, at time.Time, showDemo bool) error {
	if name == "" {
		return refuse("dullred advise NAME --why", "--why does the sum of one piece, and none is named")
	}
	v, why, err := a.whyOf(name, at, showDemo)
	if err != nil {
		return err
	}
	if a.json {
		return a.printJSON(whyJSON{jsonOf(v.piece, v.advice), whyLines(why)})
	}
	_, err = io.WriteString(a.out, a.sum(whyText(v, why)))
	return err
}

func (a *app) whyOf(name string, at time.Time, showDemo bool) (view, schedule.Explanation, error) {
	if showDemo {
		views, err := demoViews(name, at)
		if err != nil {
			return view{}, schedule.Explanation{}, err
		}
		p := views[0].piece
		return views[0], p.state.ExplainFrom(p.entries, "", nil), nil
	}
	b, err := a.open()
	if err != nil {
		return view{}, schedule.Explanation{}, err
	}
	v, why, err := a.whyIn(b, name, at)
	return v, why, errors.Join(err, b.close())
}

func (a *app) whyIn(b *bench, name string, at time.Time) (view, schedule.Explanation, error) {
	v, err := a.viewOf(b, name, at)
	if err != nil {
		return view{}, schedule.Explanation{}, err
	}
	others, err := b.others(v.piece)
	if err != nil {
		return view{}, schedule.Explanation{}, err
	}
	return v, v.piece.state.ExplainFrom(v.piece.entries, "", others), nil
}

// whyLines are the steps of the sum with the picture behind them.
func whyLines(e schedule.Explanation) []schedule.Why {
	lines := append([]schedule.Why{}, e.Lines...)
	if len(e.Picture) > 0 {
		lines = append(lines, schedule.Why{Head: "picture", Text: strings.Join(e.Picture, "\n")})
	}
	return lines
}

// whyText is the sum as a person reads it, a step a line.
func whyText(v view, e schedule.Explanation) string {
	var b strings.Builder
	title := v.piece.name
	if z, ok := v.piece.state.Zone(e.Zone); ok {
		title += ", " + v.piece.state.Alloy.Name + ", " + z.Name + " " + z.Tally.Section().String()
	}
	b.WriteString(wrap("", "  ", title))
	b.WriteString(wrap("", "  ", headline(v.advice)))
	for i, line := range e.Lines {
		head := line.Head
		if i > 0 && head == e.Lines[i-1].Head {
			head = ""
		}
		b.WriteString(workedLine(head, line.Text))
	}
	if len(e.Picture) > 0 {
		b.WriteString(fmt.Sprintf("\n%s\n", strings.Join(e.Picture, "\n")))
	}
	b.WriteString("\nLast digits may differ by one: the program rounds only what it prints.\n")
	return b.String()
}
