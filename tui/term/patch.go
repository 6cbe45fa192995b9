package term

import "github.com/gdamore/tcell/v2"

// Placed is one cell of a page: a character without marks at a place.
type Placed struct {
	X, Y  int
	Rune  rune
	Style tcell.Style
}

// Patch changes some cells of the page that was shown last, in place of a Clear
// and a page drawn anew: a program that knows what it drew need not draw it again,
// and nothing else is looked at. It changes nothing and is false when anything was
// drawn since the Clear, or when the last page does not stand any more: nothing
// was shown yet, or the size is another.
func (s *Shadow) Patch(cells []Placed) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fit()
	if !s.cleared || !s.kept {
		return false
	}
	s.cleared = false
	for _, c := range cells {
		s.back.put(c.X, c.Y, character(c.Rune), c.Style)
		if s.back.at(c.X, c.Y) != nil {
			s.patched = append(s.patched, c.Y*s.back.width+c.X)
		}
	}
	return true
}

// settle does the Clear that waits, before anything else is drawn or read.
func (s *Shadow) settle() {
	s.kept = false
	if s.cleared {
		s.cleared = false
		s.back.fill(' ', tcell.StyleDefault)
	}
}
