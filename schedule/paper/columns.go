package paper

import "slices"

// columns is how wide the columns of a table want to be, and must be so that no word is
// broken.
type columns struct {
	each          []column
	wanted, least float64 // of all together
}

type column struct{ wanted, least float64 }

// widestWord is the part of the page that one word may claim: a longer one is broken.
const widestWord = 0.25

// measure looks at every cell.
func (g *grid) measure(rows [][]cell) (c columns) {
	for _, row := range rows {
		for i, one := range row {
			if i == len(c.each) {
				c.each = append(c.each, column{})
			}
			space := fit{face: g.doc.faces[one.style], size: g.size}
			w := &c.each[i]
			w.wanted = max(w.wanted, space.face.width(one.text, g.size)+2*side)
			w.least = max(w.least, min(space.longest(one.text), widestWord*(right-left))+2*side)
		}
	}
	for i := range c.each {
		c.each[i].wanted = max(c.each[i].wanted, c.each[i].least)
		c.wanted += c.each[i].wanted
		c.least += c.each[i].least
	}
	return c
}

// mostAir is what a column gets above what it wants, where there is room.
const mostAir = 10.0

// share divides a width: what is over goes between the columns and to the last of them;
// what is short is taken from the columns that want most above what their words need,
// and only then from the words.
func (c columns) share(full float64) (widths []float64) {
	air := min(mostAir, max(0, full-c.wanted)/float64(len(c.each)))
	level := c.level(full)
	sum := 0.0
	for _, w := range c.each {
		one := w.least + min(w.wanted-w.least, level) + air
		if c.least > full {
			one = w.least * full / c.least
		}
		widths, sum = append(widths, one), sum+one
	}
	widths[len(widths)-1] += max(0, full-sum)
	return widths
}

// level is the most that a column may have above what its words need, so that all go
// into a width.
func (c columns) level(full float64) float64 {
	var over []float64
	for _, w := range c.each {
		over = append(over, w.wanted-w.least)
	}
	slices.Sort(over)
	rest := full - c.least
	for i, o := range over {
		even := max(0, rest) / float64(len(over)-i)
		if o > even {
			return even
		}
		rest -= o
	}
	return over[len(over)-1]
}
