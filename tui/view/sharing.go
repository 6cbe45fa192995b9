package view

// drawSharing writes how the record is shared onto cells that nothing else took: in the
// title bar, else in the row where an answer would stand, if all of that is empty. So it
// gives way to a longer title, to what is hot elsewhere, to an answer, a question, a
// caution and whatever else a page has to say.
func drawSharing(f *Frame, s Scene) {
	if s.Sharing == "" || s.Page == Near || s.Drill != nil {
		return // the page read close has a line for it
	}
	text, row := f.style.Text(s.Sharing), f.h-2
	switch {
	case f.aside(0, text, Title):
	case f.freeFrom(0, f.w, row):
		f.aside(row, text, Dim)
	}
}

// sharingGap is how many columns stay between the words and what stands before them.
const sharingGap = 3

// aside writes a text as far right in a row as its cells are free, and reports whether
// there was room.
func (f *Frame) aside(y int, text string, role Role) bool {
	end := f.w - 1
	for end > 0 && !f.At(end, y).free() {
		end--
	}
	from := end - Columns(text)
	if from < sharingGap || !f.freeFrom(from-sharingGap, end, y) {
		return false
	}
	f.Text(from, y, text, role)
	return true
}

// freeFrom reports whether nothing stands in a row from one column up to another.
func (f *Frame) freeFrom(x, end, y int) bool {
	for ; x < end; x++ {
		if !f.At(x, y).free() {
			return false
		}
	}
	return true
}

// free reports whether nothing stands in a cell.
func (c Cell) free() bool { return c.Rune == ' ' && (c.Role == Plain || c.Role == Title) }
