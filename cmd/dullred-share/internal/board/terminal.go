package board

import (
	"bytes"
	"context"
	"io"
	"time"
)

// Terminal is a page of text that is drawn anew in its place. It needs no colour: what
// must stop is black on white, what is hot is bold, and both are words. For a projector the
// letters of the terminal are made large.
type Terminal struct {
	Out  io.Writer
	Now  func() time.Time
	Size func() (columns, rows int) // nil where Out is no terminal: each picture follows the one before
}

// Sequences of ECMA-48 and of the screen that programs borrow.
const (
	enter = "\x1b[?1049h\x1b[?25l"
	leave = "\x1b[?25h\x1b[?1049l"
	home  = "\x1b[H"
	rest  = "\x1b[K" // clears to the end of the line
	below = "\x1b[J"
)

// beat is how often the size of the terminal and the minute are looked at.
const beat = time.Second

// Run draws until ctx ends, or nobody takes what is drawn.
func (t Terminal) Run(ctx context.Context, f *Feed) (err error) {
	if t.Size == nil {
		return t.roll(ctx, f)
	}
	if _, err := io.WriteString(t.Out, enter); err != nil {
		return err
	}
	defer func() { _, _ = io.WriteString(t.Out, leave) }()
	tick := time.NewTicker(beat)
	defer tick.Stop()
	for drawn := ""; ; {
		p, changed := f.Look()
		if next := t.screen(p); next != drawn {
			if _, err := io.WriteString(t.Out, next); err != nil {
				return err
			}
			drawn = next
		}
		select {
		case <-changed:
		case <-tick.C:
		case <-ctx.Done():
			return nil
		}
	}
}

// roll prints each picture below the one before.
func (t Terminal) roll(ctx context.Context, f *Feed) error {
	for before := ""; ; {
		p, changed := f.Look()
		text := plain(sheet{p, t.Now(), 100}.whole()) + "\n"
		if known := !p.Read.IsZero() || !p.Alone.IsZero(); known && text != before {
			if _, err := io.WriteString(t.Out, text); err != nil {
				return err
			}
			before = text
		}
		select {
		case <-changed:
		case <-ctx.Done():
			return nil
		}
	}
}

// screen is a picture on the terminal as it is.
func (t Terminal) screen(p *Picture) string {
	w, h := t.Size()
	var b bytes.Buffer
	b.WriteString(home)
	for i, text := range (sheet{p, t.Now(), max(w, leastColumns)}).fitted(h) {
		if i > 0 {
			b.WriteString("\r\n")
		}
		b.WriteString(text.styled() + rest)
	}
	b.WriteString(below)
	return b.String()
}
