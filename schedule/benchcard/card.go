package benchcard

import (
	"slices"
	"strings"
	"unicode/utf8"

	"dullred/schedule/paper"
)

// Card is a card for the wall.
type Card struct {
	Title string // the metal or the piece
	Under string // what it is, in a line
	Rows  []Row
	Foot  string // who comes first, and where there is more
}

// Written is the card with its texts as somebody says them, for figures in other units.
func (c Card) Written(say func(string) string) Card {
	rows := slices.Clone(c.Rows)
	for i := range rows {
		rows[i].Text = say(rows[i].Text)
	}
	c.Title, c.Under, c.Foot, c.Rows = say(c.Title), say(c.Under), say(c.Foot), rows
	return c
}

// Row is a text behind its head. A row without a head belongs to the one above.
type Row struct {
	Head, Text string
	Size       float64 // of the letters of the text, in points
	Close      bool    // it belongs to the row above, though it has a head
	part       part
}

// part is what a row is to a card that is too long for its page: those that come first
// here go first.
type part int

const (
	basis   part = iota + 1 // what a figure is by
	aside                   // more of what is said already
	cue                     // another sign of the heat
	step                    // of a plan; the last goes first
	later                   // the steps after those
	caution                 // the last goes first, and the card says so
	stays   part = 0
)

// large is a row of figures, small one of words.
func large(head, text string) Row { return Row{Head: head, Text: text, Size: paper.PosterLarge} }
func small(head, text string) Row { return Row{Head: head, Text: text, Size: paper.PosterSmall} }

// as is the row as another part of its card.
func (r Row) as(p part) Row {
	r.part = p
	return r
}

// columns is the widest a line of the text gets; gap is where its texts begin.
const (
	columns = 78
	gap     = 12
)

// Text is the card as plain text of at most 78 letters a line, where words allow.
func (c Card) Text() string {
	var b strings.Builder
	b.WriteString(plain(c.Title) + "\n" + plain(c.Under) + "\n\n")
	for _, r := range c.Rows {
		written(&b, r.Head, r.Text)
	}
	b.WriteString("\n")
	line(&b, 0, "", c.Foot)
	return b.String()
}

// written is a row behind its head.
func written(b *strings.Builder, head, text string) {
	head = plain(head)
	first := head + strings.Repeat(" ", max(1, gap-utf8.RuneCountInString(head)))
	line(b, gap, first, text)
}

func line(b *strings.Builder, hang int, first, text string) {
	used := utf8.RuneCountInString(first)
	b.WriteString(first)
	for i, word := range strings.Fields(plain(text)) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case used+1+n > columns:
			b.WriteString("\n" + strings.Repeat(" ", hang))
			used = hang
		default:
			b.WriteByte(' ')
			used++
		}
		b.WriteString(word)
		used += n
	}
	b.WriteByte('\n')
}
