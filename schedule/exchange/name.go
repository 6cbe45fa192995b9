package exchange

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// bearer finds the id that bears a text in a class.
type bearer struct{ class, folded string }

// name plans the labels: incoming ones in the order of their ids, so that who gets
// which number depends on nothing else. Hands are those with entries here.
func (p *Plan) name(here, incoming []Label, hands map[string]bool) error {
	known, taken := map[string]Label{}, map[bearer]bool{}
	for _, l := range here {
		known[l.ID] = l
		taken[bearer{l.Class, fold(l.Text)}] = true
	}
	incoming = slices.Clone(incoming)
	slices.SortFunc(incoming, func(a, b Label) int { return cmp.Compare(a.ID, b.ID) })
	for _, l := range incoming {
		if err := CheckLabel(l); err != nil {
			return err
		}
		mine, named := known[l.ID]
		switch {
		case named && (mine == l || numbered(mine, l)):
		case named:
			p.Stayed = append(p.Stayed, Renamed{Label: l, Here: mine.Text})
		case l.Class == "hand" && hands[l.ID]:
			p.Forgotten++
		default:
			p.add(l, taken)
		}
	}
	return nil
}

// add plans a label under the first name that is free.
func (p *Plan) add(l Label, taken map[bearer]bool) {
	text := l.Text
	for n := 2; taken[bearer{l.Class, fold(text)}]; n++ {
		text = fmt.Sprintf("%s %d", l.Text, n)
	}
	taken[bearer{l.Class, fold(text)}] = true
	if text != l.Text {
		p.Renamed = append(p.Renamed, Renamed{Label: l, Here: text})
	}
	p.Labels = append(p.Labels, Label{ID: l.ID, Class: l.Class, Text: text})
}

// numbered reports whether a label is here under the name that a union gave it: that
// was said when it came in.
func numbered(mine, l Label) bool {
	number, cut := strings.CutPrefix(mine.Text, l.Text+" ")
	n, err := strconv.Atoi(number)
	return cut && mine.Class == l.Class && err == nil && n >= 2
}

// fold maps all spellings of a text that strings.EqualFold calls equal to one, as the
// record does.
func fold(text string) string {
	return strings.Map(func(r rune) rune {
		least := r
		for other := unicode.SimpleFold(r); other != r; other = unicode.SimpleFold(other) {
			least = min(least, other)
		}
		return least
	}, text)
}
