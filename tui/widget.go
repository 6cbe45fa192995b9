package tui

import (
	"strings"

	"github.com/gdamore/tcell/v2"
	"github.com/rivo/tview"

	"dullred/tui/term"
	"dullred/tui/view"
)

// widget is the one primitive of the screen: it draws frames and hands on keys.
type widget struct {
	*tview.Box
	bench  *Bench
	styles *styles
	frame  *view.Frame // as it was drawn last
	theme  view.Theme  // of it
	drawn  func()      // called after every drawing
}

func newWidget(b *Bench, s *styles, drawn func()) *widget {
	return &widget{Box: tview.NewBox(), bench: b, styles: s, drawn: drawn}
}

// patcher is a screen that keeps the page that it showed last.
type patcher interface{ Patch([]term.Placed) bool }

// Draw brings the frame of this moment onto the screen: the cells that changed
// since the last one where the screen has kept it, else all of them.
func (w *widget) Draw(screen tcell.Screen) {
	width, height := screen.Size()
	w.bench.Resize(width, height)
	frame, theme := view.Draw(w.bench.Scene(), width, height), w.bench.Theme()
	inks := w.styles.of(theme)
	kept, ok := screen.(patcher)
	if !ok || theme != w.theme || w.frame == nil || !kept.Patch(changed(w.frame, frame, inks)) {
		drawAll(screen, frame, inks)
	}
	w.frame, w.theme = frame, theme
	w.drawn()
}

func drawAll(screen tcell.Screen, f *view.Frame, inks *inks) {
	width, height := f.Size()
	for y := range height {
		for x := range width {
			c := f.At(x, y)
			screen.SetContent(x, y, c.Rune, nil, inks[c.Role])
		}
	}
}

// changed are the cells of a frame that differ from those of the one before.
func changed(before, now *view.Frame, inks *inks) (all []term.Placed) {
	width, height := now.Size()
	for y := range height {
		for x := range width {
			if c := now.At(x, y); c != before.At(x, y) {
				all = append(all, term.Placed{X: x, Y: y, Rune: c.Rune, Style: inks[c.Role]})
			}
		}
	}
	return all
}

// specials are the keys that type no character.
var specials = map[tcell.Key]Special{
	tcell.KeyEnter: Enter, tcell.KeyCtrlJ: Enter, tcell.KeyEscape: Escape, tcell.KeyBackspace: Backspace,
	tcell.KeyBackspace2: Backspace, tcell.KeyTab: Tab, tcell.KeyUp: Up, tcell.KeyDown: Down, tcell.KeyPgUp: PageUp,
	tcell.KeyPgDn: PageDown, tcell.KeyF1: Help, tcell.KeyCtrlC: Cancel,
	tcell.KeyF2: Rings, tcell.KeyF3: Bounces, tcell.KeyF4: Springs, tcell.KeyF5: Stops, tcell.KeyF6: Dead, tcell.KeyF9: End,
}

// pressOf is the press that a key event tells of. Capitals are taken for small
// letters outside forms, so that caps lock does no harm.
func pressOf(event *tcell.EventKey, typing bool) (Press, bool) {
	if event.Key() != tcell.KeyRune {
		special, known := specials[event.Key()]
		return Press{Key: special}, known
	}
	if event.Modifiers()&(tcell.ModAlt|tcell.ModCtrl|tcell.ModMeta) != 0 {
		return Press{}, false
	}
	r := event.Rune()
	if !typing && r >= 'A' && r <= 'Z' {
		r += 'a' - 'A'
	}
	return Press{Rune: r}, true
}

// key hands a key event to the bench.
func (w *widget) key(event *tcell.EventKey) {
	if p, known := pressOf(event, w.bench.form != nil); known {
		w.bench.PressAt(p, event.When())
	}
}

// paste types what was pasted, which is how some callipers send a figure. Only a
// form takes it, or a figure, which opens one.
func (w *widget) paste(text string) {
	if w.bench.form == nil && (text == "" || text[0] < '0' || text[0] > '9') {
		return
	}
	for _, r := range text {
		if r == '\n' || r == '\r' {
			w.bench.Press(Press{Key: Enter})
			continue
		}
		w.bench.Press(Press{Rune: r})
	}
}

// PasteHandler is for tview.
func (w *widget) PasteHandler() func(string, func(tview.Primitive)) {
	return func(text string, _ func(tview.Primitive)) { w.paste(text) }
}

// click does what the key cap does that was clicked on, or the one before the
// words that were.
func (w *widget) click(x, y int) bool {
	if w.frame == nil {
		return false
	}
	for x >= 0 && w.frame.At(x, y).Role != view.Key {
		if c := w.frame.At(x, y); c.Rune == ' ' && w.frame.At(x-1, y).Rune == ' ' && w.frame.At(x-1, y).Role != view.Key {
			return false // between two hints, or on the empty page
		}
		x--
	}
	var name []rune
	for end := x; end >= 0 && w.frame.At(end, y).Role == view.Key; end-- {
		name = append([]rune{w.frame.At(end, y).Rune}, name...)
	}
	for x++; w.frame.At(x, y).Role == view.Key; x++ {
		name = append(name, w.frame.At(x, y).Rune)
	}
	return w.pressNamed(strings.ToLower(strings.TrimSpace(string(name))))
}

// capNames are the names of key caps that are in no table.
var capNames = map[string]Press{"enter": {Key: Enter}, "esc": {Key: Escape}, "tab": {Key: Tab}}

func (w *widget) pressNamed(name string) bool {
	if p, ok := capNames[name]; ok {
		w.bench.Press(p)
		return true
	}
	for _, k := range keys {
		if k.name == name && len(k.press) > 0 {
			w.bench.Press(k.press[0])
			return true
		}
	}
	return false
}

// MouseHandler is for tview.
func (w *widget) MouseHandler() func(tview.MouseAction, *tcell.EventMouse, func(tview.Primitive)) (bool, tview.Primitive) {
	return func(action tview.MouseAction, event *tcell.EventMouse, _ func(tview.Primitive)) (bool, tview.Primitive) {
		if action != tview.MouseLeftClick {
			return false, nil
		}
		x, y := event.Position()
		return w.click(x, y), nil
	}
}
