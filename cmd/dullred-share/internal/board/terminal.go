package board

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/rivo/uniseg"
)

// Terminal is a page of plain text that is drawn anew in its place. It needs no colour;
// for a projector the letters of the terminal are made large.
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
		text := strings.Join(t.lines(p, 100), "\n") + "\n\n"
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

// screen is a picture on the terminal as it is: what does not fit is counted.
func (t Terminal) screen(p *Picture) string {
	w, h := t.Size()
	all := t.lines(p, max(w, leastColumns))
	if len(all) > h && h > 1 {
		all = append(all[:h-1], fmt.Sprintf("(%d more lines below)", len(all)-h+1))
	}
	var b bytes.Buffer
	b.WriteString(home)
	for i, text := range all {
		if i > 0 {
			b.WriteString("\r\n")
		}
		b.WriteString(text + rest)
	}
	b.WriteString(below)
	return b.String()
}

// Columns, in cells: below the least there is no room for the names.
const (
	leastColumns = 50
	shareColumn  = 7
	stateColumn  = 15
	leftColumn   = 9
)

// lines is a picture as text of at most so many cells.
func (t Terminal) lines(p *Picture, columns int) []string {
	now := t.Now()
	names := columns - shareColumn - stateColumn - leftColumn - 3
	piece, bench := names*3/5, names-names*3/5
	row := func(c ...string) string {
		return strings.TrimRight(strings.Join([]string{right(c[0], shareColumn), left(c[1], stateColumn), left(c[2], piece), left(c[3], bench-1), left(c[4], leftColumn)}, " "), " ")
	}
	out := []string{left(head(p), columns-6) + " " + clock(now, now.Location())}
	if link := p.link(now.Location()); link != "" {
		out = append(out, wrap(strings.ToUpper(link[:1])+link[1:]+".", columns)...)
	}
	out = append(out, "", row("LIMIT", "STATE", "PIECE", "BENCH", "COURSES"))
	for _, r := range p.Rows {
		l := lineOf(r, now)
		out = append(out, row(l.Share, strings.TrimSpace(l.Marks+" "+l.State), l.Title, l.Bench, l.Left))
		if l.Hot != "" {
			out = append(out, clip(strings.Repeat(" ", shareColumn+1)+"hot "+l.Hot, columns))
		}
		for _, a := range l.Alerts {
			out = append(out, clip(strings.Repeat(" ", shareColumn+1)+a, columns))
		}
	}
	return out
}

// clip is text of at most so many cells.
func clip(s string, cells int) string {
	if uniseg.StringWidth(s) <= cells {
		return s
	}
	var b strings.Builder
	state, used := -1, 1
	for rest := s; rest != ""; {
		var part string
		var width int
		part, rest, width, state = uniseg.FirstGraphemeClusterInString(rest, state)
		if used += width; used > cells {
			break
		}
		b.WriteString(part)
	}
	return b.String() + "~"
}

func left(s string, cells int) string {
	s = clip(s, cells)
	return s + strings.Repeat(" ", cells-uniseg.StringWidth(s))
}

func right(s string, cells int) string {
	s = clip(s, cells)
	return strings.Repeat(" ", cells-uniseg.StringWidth(s)) + s
}

// wrap breaks text between words into lines of at most so many cells.
func wrap(s string, cells int) (all []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && uniseg.StringWidth(line)+1+uniseg.StringWidth(word) > cells {
			all, line = append(all, line), ""
		}
		line = clip(strings.TrimSpace(line+" "+word), cells)
	}
	return append(all, line)
}
