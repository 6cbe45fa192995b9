package board

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"time"

	"dullred/schedule/board"
)

//go:embed page.html
var pageText string

// pages are the templates, made when the page is first asked for.
type pages struct{ *template.Template }

func newPages() pages { return pages{template.Must(template.New("").Parse(pageText))} }

// shown is what a template is filled with.
type shown struct {
	Nonce     string // of this answer
	Fits      []int  // the lengths for which there are letters
	Clock     string // when it was made
	Head      string
	Nothing   string // what is said where there is no row
	Link, Why string // how it stands with the shared record, where it cannot be read
	Tally     []count
	Crowd     string // a class for so many that press
	Press     []line // what presses
	Lines     []line // all
}

func shownOf(p *Picture, now time.Time) shown {
	s := shown{Clock: clock(now, now.Location()), Head: head(p), Nothing: nothing(p), Tally: tally(p), Link: p.alone(now.Location())}
	if s.Link != "" {
		s.Why = p.why(now.Location())
	}
	for _, r := range p.Rows {
		l := lineOf(r, now)
		s.Lines = append(s.Lines, l)
		if l.Press {
			s.Press = append(s.Press, l)
		}
	}
	s.Crowd = crowd(len(s.Press))
	return s
}

// crowd is the class of so many tiles: how many columns they take follows from it.
func crowd(n int) string {
	for _, most := range []int{4, 10, 21, 40} {
		if n <= most {
			return fmt.Sprint("upto", most)
		}
	}
	return "more"
}

// count is how many rows are of a kind.
type count struct{ Level, Text string }

// tally counts what presses; danger counts as what must stop. What is hot and past its limit counts as both; before
// anything was read nothing is calm.
func tally(p *Picture) (all []count) {
	if p.Read.IsZero() {
		return []count{{"calm", "NOT READ YET"}}
	}
	var stop, hot, unseen int
	for _, r := range p.Rows {
		if r.Rank() <= board.Stop {
			stop++
		}
		if !r.Hot.IsZero() {
			hot++
		}
		if len(r.Alerts) > 0 {
			unseen++
		}
	}
	for _, c := range []struct {
		n           int
		level, word string
	}{{stop, "stop", "STOP"}, {hot, "hot", "HOT"}, {unseen, "unseen", "UNSEEN"}} {
		if c.n > 0 {
			all = append(all, count{c.level, fmt.Sprint(c.n, " ", c.word)})
		}
	}
	if len(all) == 0 {
		return []count{{"calm", "NOTHING PRESSES"}}
	}
	return all
}

// page writes the whole page.
func (t pages) page(w io.Writer, s shown) error {
	s.Fits = fits()
	return t.ExecuteTemplate(w, "page", s)
}

// table is the part of the page that changes.
func (t pages) table(s shown) (string, error) {
	var b strings.Builder
	err := t.ExecuteTemplate(&b, "board", s)
	return b.String(), err
}
