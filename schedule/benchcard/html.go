package benchcard

import (
	"bytes"
	_ "embed"
	"html/template"
	"sync"

	"dullred/schedule/paper"
)

//go:embed card.html
var pageSource string

// page is parsed when the first card is printed.
var page = sync.OnceValues(func() (*template.Template, error) { return template.New("card").Parse(pageSource) })

// HTML is the card as one page for a browser to print, with the rows and sizes of the
// PDF. It asks for nothing else: no script, no style or picture from elsewhere.
func (c Card) HTML() ([]byte, error) {
	t, err := page()
	if err != nil {
		return nil, err
	}
	c = c.fitted(paper.New(paper.Head{}))
	for _, text := range c.texts() {
		*text = plain(*text)
	}
	var out bytes.Buffer
	err = t.Execute(&out, c)
	return out.Bytes(), err
}
