package sheet

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"dullred/alloys/unit"
)

// moment is how a time is written; clock is one on a day that is known.
const (
	moment = "2006-01-02 15:04"
	clock  = "15:04:05"
)

// number prints a figure without zeros behind the point; nothing for nil.
func number(f *float64) string {
	if f == nil {
		return ""
	}
	return strconv.FormatFloat(*f, 'f', -1, 64)
}

// with is a figure with its unit; nothing for nil.
func with(f *float64, unit string) string {
	if f == nil {
		return ""
	}
	return number(f) + unit
}

// took is a time in words; nothing for nil.
func took(seconds *float64) string {
	if seconds == nil {
		return ""
	}
	return unit.FormatDuration(time.Duration(*seconds) * time.Second)
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// said joins what is not empty.
func said(between string, parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, between)
}

// headed is a text behind its head; nothing for no text.
func headed(head, text string) string {
	if text == "" {
		return ""
	}
	return head + text
}

// fact is one line of the head of a sheet.
type fact struct{ Head, Text string }

// styled are facts as they are written for people.
func (s Sheet) styled(all []fact) (out []fact) {
	for _, f := range all {
		out = append(out, fact{f.Head, s.Style.Text(f.Text)})
	}
	return out
}

// facts are what the head of a sheet says, as far as it is known.
func (s Sheet) facts() (all []fact) {
	add := func(head, text string) {
		if text != "" {
			all = append(all, fact{head, text})
		}
	}
	if s.Started != nil {
		add("started", s.Started.Format(moment))
	}
	for _, m := range s.Finished {
		add("finished", m.At.Format(moment)+" by "+m.Hand)
	}
	add("alloy", said(", ", s.AlloyName, s.Alloy))
	add("charge", s.Charge)
	add("mark", s.Mark)
	add("condition", s.condition())
	add("calliper", with(s.Calliper, " mm"))
	add("length", with(s.Length, " mm at the start"))
	add("own limit", s.Limit)
	if s.Test {
		add("test piece", "worked until it splits")
	}
	for _, why := range s.Unread {
		add("not followed", why)
	}
	return all
}

func (s Sheet) condition() string {
	switch {
	case s.Started == nil:
		return ""
	case s.Cast:
		return "as cast at the start"
	}
	return "wrought at the start"
}

// totals are the facts at the foot.
func (s Sheet) totals() []fact {
	t := s.Totals
	all := []fact{{"courses", strconv.Itoa(t.Courses)}, {"heats", strconv.Itoa(t.Heats)},
		{"proved soft", strconv.Itoa(t.Proved)}, {"cracks", strconv.Itoa(t.Cracks)}}
	if s.Stain.Flux+s.Stain.Bare > 0 {
		all = append(all, fact{"fire-stain", s.Stain.String()})
	}
	if t.In != nil {
		all = append(all, fact{"metal", t.metal()})
	}
	if s.Hallmark != "" {
		all = append(all, fact{"hallmark", s.Hallmark})
	}
	return all
}

// metal is what became of the metal, in words.
func (t Totals) metal() string {
	if t.Lost == nil {
		return with(t.In, " g in, not weighed since")
	}
	scrap := ""
	if *t.Scrap > 0 {
		scrap = with(t.Scrap, " g of scrap kept")
	}
	lost := fmt.Sprintf("%s g lost (%s %% of what went in)", number(t.Lost), number(t.Share))
	return said(", ", with(t.In, " g in"), with(t.Out, " g out"), scrap, lost)
}

// String is the ledger in words.
func (s Stain) String() string {
	text := fmt.Sprintf("%s under flux, %d without; %s min above 500 °C", counted(s.Flux, "heat"), s.Bare, number(&s.Minutes))
	if s.Probed == 0 {
		return text + ", an estimate"
	}
	return text + fmt.Sprintf(", %s timed by a probe", counted(s.Probed, "heat"))
}

// String is a step of a heat in words.
func (s *Step) String() string {
	if s == nil {
		return ""
	}
	return said(" at ", s.At.Format(clock), with(s.Temp, " °C"))
}

// String is what was done about a crack.
func (d Done) String() string {
	return fmt.Sprintf("%s %s by %s (%s)", d.What, d.At.Format(moment), d.Hand, strings.Join(d.Zones, ", "))
}

// followed is whether advice was followed, in words; nothing where it is not judged.
func (a Advice) followed() string {
	switch {
	case a.Followed == nil:
		return ""
	case *a.Followed:
		return "followed"
	}
	return "not followed"
}

// fluxed is whether a heat was under flux, in words.
func (h Heat) fluxed() string {
	if h.Flux {
		return "under flux"
	}
	return "without flux"
}
