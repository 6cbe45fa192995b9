package benchcard

import (
	"slices"
	"strings"

	"dullred/schedule/paper"
)

// nearSteps is how many of the next steps of a plan are to be in large letters before
// what is good to know has any room (a judgement).
const nearSteps = 4

// fitted is a card that goes on one page: with as much of it as goes, and with as many
// steps in large letters. Those after them stand in one row.
func (c Card) fitted(d *paper.Doc) Card {
	c.cap()
	goes := func(c Card) bool { return d.Fits(c.poster()) }
	steps := c.steps()
	for least := basis; least <= step; least++ {
		for n := steps; n >= min(nearSteps, steps); n-- {
			if t := c.set(n, least); goes(t) {
				return t
			}
		}
	}
	c = c.set(min(nearSteps, steps), step)
	for _, p := range []part{later, step, caution} {
		for !goes(c) && c.drop(p) {
		}
	}
	for !goes(c) && c.shorten() {
	}
	return c
}

// mostText is how many letters of a text are looked at: more than go on a page that has
// anything else (a judgement).
const mostText = 1500

// cap cuts what no page holds.
func (c *Card) cap() {
	c.Rows = slices.Clone(c.Rows)
	for _, text := range c.texts() {
		if letters := []rune(*text); len(letters) > mostText {
			*text = string(letters[:mostText]) + "…"
		}
	}
}

// texts are all texts of a card.
func (c *Card) texts() []*string {
	all := []*string{&c.Title, &c.Under, &c.Foot}
	for i := range c.Rows {
		all = append(all, &c.Rows[i].Head, &c.Rows[i].Text)
	}
	return all
}

// steps is how many steps of a plan a card has.
func (c Card) steps() (n int) {
	for _, r := range c.Rows {
		if r.part == step {
			n++
		}
	}
	return n
}

// set is a card with so many of its steps in rows of their own, and without the parts
// before one.
func (c Card) set(near int, least part) Card {
	var rows []Row
	var rest []string
	for _, r := range c.Rows {
		switch {
		case r.part == step && near == 0:
			rest = append(rest, r.Head+" "+r.Text)
			continue
		case r.part == step:
			near--
		case r.Head != "" && rest != nil:
			rows = append(rows, after(rest))
			rest = nil
		}
		if rest == nil && (r.part == stays || r.part >= least) {
			rows = append(rows, r)
		}
	}
	if rest != nil {
		rows = append(rows, after(rest))
	}
	c.Rows = rows
	return c
}

// after are the steps after those in large letters.
func after(steps []string) Row { return small("after that", strings.Join(steps, "; ")).as(later) }

// left is what a card says where some of a part is left away.
var left = map[part]string{
	later:   "There are more steps than go on this page.",
	step:    "There are more steps than go on this page.",
	caution: "There are more cautions than go on this page: read them before the first heat.",
}

// drop leaves the last row of a part away and says so; false where there is none.
func (c *Card) drop(p part) bool {
	i := len(c.Rows) - 1
	for i >= 0 && c.Rows[i].part != p {
		i--
	}
	if i < 0 {
		return false
	}
	c.Rows = slices.Clone(c.Rows)
	if told := i + 1; told < len(c.Rows) && c.Rows[told].Text == left[p] {
		c.Rows[told].Head = c.Rows[i].Head
		c.Rows = slices.Delete(c.Rows, i, told)
		return true
	}
	c.Rows[i].Text, c.Rows[i].part, c.Rows[i].Size = left[p], stays, paper.PosterSmall
	return true
}

// shorten halves the longest text and ends it with an ellipsis, as the last resort of
// names and figures that no table of the program has; false where no text is left to cut.
func (c *Card) shorten() bool {
	c.Rows = slices.Clone(c.Rows)
	longest, texts := 0, c.texts()
	for i, text := range texts {
		if len(*text) > len(*texts[longest]) {
			longest = i
		}
	}
	letters := []rune(*texts[longest])
	*texts[longest] = string(letters[:len(letters)/2]) + "…"
	return len(letters) > 2
}

func (c Card) poster() paper.Poster {
	p := paper.Poster{Title: c.Title, Under: c.Under, Foot: c.Foot}
	for _, r := range c.Rows {
		p.Rows = append(p.Rows, paper.PosterRow{Head: r.Head, Text: r.Text, Size: r.Size, Close: r.Close})
	}
	return p
}
