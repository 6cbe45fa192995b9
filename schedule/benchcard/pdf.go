package benchcard

import "dullred/schedule/paper"

// PDF is the card on one A4 page, which also prints on Letter. The title is 40 points
// high and no letter below 14. The same card gives the same bytes: the date in the file
// is that of no day.
func (c Card) PDF() ([]byte, error) {
	d := paper.New(paper.Head{Title: c.Title})
	d.Poster(c.fitted(d).poster())
	return d.Bytes()
}
