package sheet

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"dullred/alloys/unit"
)

// columns is the widest a line of the text gets.
const columns = 78

// Text is the sheet as plain text of at most 78 letters a line.
func (s Sheet) Text() string {
	p := page{style: s.Style}
	p.put("", "Making record of "+s.Name)
	p.facts(s.facts())
	p.work(s.Work)
	p.heats(s.Heats)
	p.cracks(s.Cracks)
	p.joints(s.Joints)
	section(&p, "Signs", s.Signs, func(g Sign) (Made, string) { return g.Made, g.Sign + ", " + strings.Join(g.Zones, ", ") })
	section(&p, "Advice that was shown", s.Advice, func(a Advice) (Made, string) {
		return a.Made, said(", ", a.Zone+": "+a.Verdict, headed("", with(a.Spent, " % of the limit spent")), a.followed())
	})
	section(&p, "Weights", s.Weights, func(w Weight) (Made, string) { return w.Made, w.What + " " + number(&w.Grams) + " g" })
	section(&p, "Photos", s.Photos, func(f Photo) (Made, string) { return f.Made, f.Ref + ", " + strings.Join(f.Zones, ", ") })
	section(&p, "Notes", s.Notes, func(n Note) (Made, string) { return n.Made, n.Text })
	p.hands(s.Hands)
	p.head("Totals", 1)
	p.facts(s.totals())
	return p.String()
}

// page is a text on the way.
type page struct {
	strings.Builder
	style unit.Style
}

// line prints text in the style of the sheet behind an indent.
func (p *page) line(indent, text string) { p.put(indent, p.style.Text(text)) }

// put prints text behind an indent, and breaks it at blanks, or in a word that is
// longer than a line.
func (p *page) put(indent, text string) {
	line := indent
	for _, word := range strings.Fields(text) {
		if line != indent && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > columns {
			p.WriteString(line + "\n")
			indent += strings.Repeat(" ", max(0, 4-len(indent)))
			line = indent
		}
		if strings.TrimSpace(line) != "" {
			line += " "
		}
		letters := []rune(word)
		for room := columns - utf8.RuneCountInString(line); len(letters) > room; room = columns - len(indent) {
			p.WriteString(line + string(letters[:room]) + "\n")
			letters, line = letters[room:], indent
		}
		line += string(letters)
	}
	p.WriteString(strings.TrimRight(line, " ") + "\n")
}

// head is a heading over n lines; none over nothing.
func (p *page) head(text string, n int) {
	if n > 0 {
		p.WriteString("\n" + text + "\n")
	}
}

func (p *page) facts(all []fact) {
	for _, f := range all {
		p.line("  ", f.Head+": "+f.Text)
	}
}

// section prints what has one line each, with its date and hand.
func section[T any](p *page, title string, all []T, line func(T) (Made, string)) {
	p.head(title, len(all))
	for _, one := range all {
		m, text := line(one)
		p.line("  ", m.At.Format(moment)+" "+m.Hand+": "+text)
	}
}

func (p *page) work(all []Work) {
	p.head("Work", len(all))
	for _, w := range all {
		text := said(" ", w.What, w.Detail)
		if w.Courses > 0 {
			text += ", " + counted(w.Courses, "course")
		}
		text += headed(", with ", w.Tool)
		p.line("  ", w.At.Format(moment)+" "+w.Hand+": "+text)
		for _, z := range w.Zones {
			p.zone(z, w.Courses > 0)
		}
	}
}

func (p *page) zone(z Worked, pass bool) {
	size := z.Size
	if size == "" && pass {
		size = "not measured"
	}
	text := said(", ", size, headed("strain ", number(z.Strain)), headed("since soft ", number(z.Since)), with(z.Spent, " % of the limit spent"))
	if text != "" {
		p.line("    ", z.Zone+": "+text)
	}
}

func (p *page) heats(all []Heat) {
	p.head("Heats", len(all))
	for i, h := range all {
		p.line("  ", h.At.Format(moment)+" "+h.Hand+": heat "+strconv.Itoa(i+1)+" of "+strings.Join(h.Zones, ", ")+", "+h.fluxed())
		p.line("    ", said(", ", headed("begun ", h.Begun.String()), headed("reached ", h.Reached.String()), headed("out ", h.Out.String()), h.Cooled))
		p.line("    ", said(", ", headed("in the flame ", took(h.Flame)), headed("at heat ", took(h.AtHeat)),
			with(h.Hottest, " °C at most by a probe"), with(h.Stain, " min above 500 °C"), h.proof()))
	}
}

// proof is how a heat ended, in words.
func (h Heat) proof() string {
	switch h.Proved {
	case Never:
		return "never proved"
	case Open:
		return "not proved yet"
	}
	return "proved " + string(h.Proved) + headed(" by ", h.By)
}

func (p *page) cracks(all []Crack) {
	p.head("Cracks", len(all))
	for _, c := range all {
		p.line("  ", fmt.Sprintf("%s %s: crack in %s: %s", c.At.Format(moment), c.Hand, strings.Join(c.Zones, ", "), c.Stands))
		for _, d := range c.Done {
			p.line("    ", d.String())
		}
	}
}

func (p *page) joints(all []Joint) {
	section(p, "Joints", all, func(j Joint) (Made, string) {
		return j.Made, said(", ", j.Joint, headed("solder ", j.Solder), with(j.Solidus, " °C solidus"), headed("solidus not known: ", j.Why))
	})
}

func (p *page) hands(all []Hand) {
	p.head("Hands", len(all))
	for _, h := range all {
		p.line("  ", fmt.Sprintf("%s: %s to %s, %s", h.Hand, h.First.Format(moment), h.Last.Format(moment), counted(h.Courses, "course")))
	}
}
