package main

import (
	"fmt"
	"html/template"
	"slices"

	"dullred/alloys/unit"
	"dullred/schedule/picture"
)

// inPage are the pictures of a piece as they stand in a page, under ids that begin with
// the number of its sheet. A picture holds no text but as data.
func (b *bench) inPage(p *piece, n int, style unit.Style) (all []template.HTML) {
	story := picture.Of(picture.Source{Name: clean(p.name), Book: b.book, Entries: slices.Concat(b.steps, p.entries)})
	for i, f := range []picture.Figure{story.Strain(), story.Shape()} {
		f.Style = style
		f.ID = fmt.Sprintf("sheet%d-%d", n, i+1)
		all = append(all, template.HTML(picture.SVG(f)))
	}
	return all
}
