package board

import (
	_ "embed"
	"html/template"
	"io"
	"strings"
	"time"
)

//go:embed page.html
var pageText string

// pages are the templates, made when the page is first asked for.
type pages struct{ *template.Template }

func newPages() pages { return pages{template.Must(template.New("").Parse(pageText))} }

// shown is what a template is filled with.
type shown struct {
	Nonce string // of this answer
	Head  string
	Link  string // how it stands with the shared record, where it cannot be read
	Lines []line
}

func shownOf(p *Picture, now time.Time) shown {
	s := shown{Head: head(p), Link: p.link(now.Location())}
	for _, r := range p.Rows {
		s.Lines = append(s.Lines, lineOf(r, now))
	}
	return s
}

// page writes the whole page.
func (t pages) page(w io.Writer, s shown) error { return t.ExecuteTemplate(w, "page", s) }

// table is the part of the page that changes.
func (t pages) table(s shown) (string, error) {
	var b strings.Builder
	err := t.ExecuteTemplate(&b, "board", s)
	return b.String(), err
}
