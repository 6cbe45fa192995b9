package term

import "github.com/gdamore/tcell/v2"

// Size is the size of the terminal in cells.
func (s *Shadow) Size() (width, height int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fit()
	return s.back.width, s.back.height
}

// SetSize asks the terminal for another size, which many refuse.
func (s *Shadow) SetSize(width, height int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Screen.SetSize(width, height)
	s.fit()
	s.forget()
}

// Resize reads the size of the terminal and shows all cells again. Its
// arguments mean nothing, as in tcell.
func (s *Shadow) Resize(int, int, int, int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fit()
	s.forget()
	s.show()
}

// Clear fills the buffer with blanks, once something else is drawn or shown.
func (s *Shadow) Clear() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fit()
	s.cleared = true
}

// Fill fills the buffer with one character of width 1.
func (s *Shadow) Fill(r rune, style tcell.Style) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fit()
	s.settle()
	s.back.fill(r, style)
}

// Put draws the first grapheme of text and returns the rest and its width in
// cells, 0 outside the screen.
func (s *Shadow) Put(x, y int, text string, style tcell.Style) (string, int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.settle()
	return s.back.put(x, y, text, style)
}

// PutStr draws a text in the default style, up to the right edge.
func (s *Shadow) PutStr(x, y int, text string) {
	s.PutStrStyled(x, y, text, tcell.StyleDefault)
}

// PutStrStyled draws a text, up to the right edge.
func (s *Shadow) PutStrStyled(x, y int, text string, style tcell.Style) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.settle()
	for text != "" {
		rest, width := s.back.put(x, y, text, style)
		if width == 0 {
			return
		}
		text, x = rest, x+width
	}
}

// SetCell draws a character with its marks; without one, a blank.
func (s *Shadow) SetCell(x, y int, style tcell.Style, ch ...rune) {
	if len(ch) == 0 {
		ch = []rune{' '}
	}
	s.SetContent(x, y, ch[0], ch[1:], style)
}

// SetContent draws a character with its combining marks.
func (s *Shadow) SetContent(x, y int, primary rune, combining []rune, style tcell.Style) {
	s.Put(x, y, character(primary, combining...), style)
}

// Get returns what is drawn at a place: "" and width 0 outside the screen.
func (s *Shadow) Get(x, y int) (text string, style tcell.Style, width int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.cleared {
		s.settle()
	}
	return s.back.get(x, y)
}

// GetContent is Get with the character and its combining marks apart.
func (s *Shadow) GetContent(x, y int) (primary rune, combining []rune, style tcell.Style, width int) {
	text, style, width := s.Get(x, y)
	for i, r := range text {
		if i == 0 {
			primary = r
		} else {
			combining = append(combining, r)
		}
	}
	return primary, combining, style, width
}

// SetStyle sets what the default style means. The next Show sends every cell.
func (s *Shadow) SetStyle(style tcell.Style) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Screen.SetStyle(style)
	s.resend = true
}

// ShowCursor puts the cursor on a place; outside the screen it is hidden.
func (s *Shadow) ShowCursor(x, y int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.cursor = place{x, y, true}
}

// HideCursor hides the cursor.
func (s *Shadow) HideCursor() {
	s.ShowCursor(-1, -1)
}

// SetCursorStyle sets the look of the cursor, from the next Show on.
func (s *Shadow) SetCursorStyle(style tcell.CursorStyle, colour ...tcell.Color) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Screen.SetCursorStyle(style, colour...)
	s.pending = true
}

// LockRegion keeps cells from being shown, or lets them be shown again.
func (s *Shadow) LockRegion(x, y, width, height int, lock bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Screen.LockRegion(x, y, width, height, lock)
	s.pending = true
}
