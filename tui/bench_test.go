package tui

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/tui/term"
	"dullred/tui/view"
)

// The benchmarks of this file draw on a terminal screen over a meter, so that they
// count what this program adds to a key and not what the system does.

var benchSizes = []struct{ w, h int }{{120, 40}, {80, 24}}

// quietKeys are keys that write nothing.
var quietKeys = []struct{ name, keys string }{
	{"zone", "z"},     // the next zone: a few words and the gauge
	{"page", "v"},     // another page: nearly every cell
	{"refused", "ar"}, // the answer alone, in turn
	{"scroll", "?"},   // the page of keys, there and back
}

// zoned is a bench with a piece of two zones, worked a little.
func zoned(b *testing.B, width, height int) *handBench {
	b.Helper()
	h := newHandBench(b, memoryDesk(nil), width, height)
	size, err := unit.ParseSize("8x8", unit.Unshaped)
	require.NoError(b, err)
	require.NoError(b, h.start("spoon", schedule.Started{Alloy: "copper", Calliper: 0.1, Zones: []string{"bowl", "stem"},
		Reading: schedule.Reading{Size: size}}))
	h.press("  7.5x7.5\n   ")
	return h
}

// stroke is one key on the whole way from the event to the terminal.
func (h *handBench) stroke(r rune) {
	h.pass(keyGap)
	p, _ := pressOf(event(r), h.form != nil)
	h.Press(p) // by the clock of the bench: by the clock on the wall it would be a bounce
	h.screen.Clear()
	h.widget.Draw(h.screen)
	h.screen.Show()
}

// BenchmarkKeyAgainstBareTcell sets a key that writes nothing beside the least that can be
// done for it: the cells that the same key changed, and no others, on tcell's own screen.
// They go in turns of sixty, so that what else the machine does meets both.
func BenchmarkKeyAgainstBareTcell(b *testing.B) {
	const turn = 60 // a whole number of rounds
	eachQuietKey(b, func(b *testing.B, h *handBench, keys []rune) {
		rounds := changes(h, keys)
		under, m := bare(b, h)
		var strokes, least []int // ns of a turn
		for b.Loop() {
			strokes = append(strokes, lasted(turn, func(i int) {
				h.meter.Reset()
				h.stroke(keys[i%len(keys)])
			}))
			least = append(least, lasted(turn, func(i int) {
				m.Reset()
				for _, c := range rounds[i%len(rounds)] {
					under.SetContent(c.x, c.y, c.r, nil, c.style)
				}
				under.Show()
			}))
		}
		b.ReportMetric(float64(len(rounds[0])), "cells")
		b.ReportMetric(float64(median(strokes))/turn, "ns/key")
		b.ReportMetric(float64(median(least))/turn, "ns/bare")
		b.ReportMetric(float64(median(strokes))/float64(median(least)), "x-bare")
		b.ReportMetric(0, "ns/op")
	})
}

// lasted is how many nanoseconds it takes to do something a number of times.
func lasted(times int, do func(i int)) int {
	begun := time.Now()
	for i := range times {
		do(i)
	}
	return int(time.Since(begun))
}

func eachQuietKey(b *testing.B, run func(b *testing.B, h *handBench, keys []rune)) {
	for _, size := range benchSizes {
		for _, k := range quietKeys {
			b.Run(fmt.Sprintf("%dx%d/%s", size.w, size.h, k.name), func(b *testing.B) {
				run(b, zoned(b, size.w, size.h), []rune(k.keys))
			})
		}
	}
}

// change is one cell that a key changed.
type change struct {
	x, y  int
	r     rune
	style tcell.Style
}

// changes are the cells that each of a round of keys changes, when the keys were
// pressed before: 6 strokes bring zones, pages and answers round.
func changes(h *handBench, keys []rune) (rounds [][]change) {
	const round = 6
	for i := range 2 * round {
		before := h.widget.frame
		h.stroke(keys[i%len(keys)])
		if i >= round {
			rounds = append(rounds, differing(before, h.widget))
		}
	}
	return rounds
}

func differing(before *view.Frame, w *widget) (cells []change) {
	width, height := before.Size()
	inks := w.styles.of(w.bench.Theme())
	for y := range height {
		for x := range width {
			if c := w.frame.At(x, y); c != before.At(x, y) {
				cells = append(cells, change{x, y, c.Rune, inks[c.Role]})
			}
		}
	}
	return cells
}

// bare is tcell's own screen of the size of a bench's.
func bare(b *testing.B, h *handBench) (tcell.Screen, *meter) {
	b.Helper()
	width, height := h.screen.Size()
	under, m := terminal(b, width, height)
	require.NoError(b, under.Init())
	b.Cleanup(under.Fini)
	under.Show()
	return under, m
}

// BenchmarkFullRedraw is the same keys drawn as a program draws that clears the
// screen and sets every cell of it on tcell's own screen.
func BenchmarkFullRedraw(b *testing.B) {
	eachQuietKey(b, func(b *testing.B, h *handBench, keys []rune) {
		under, m := bare(b, h)
		h.screen = under
		sent := 0
		for i := 0; b.Loop(); i++ {
			m.Reset()
			h.stroke(keys[i%len(keys)])
			sent = m.Len()
		}
		b.ReportMetric(float64(sent), "bytes")
	})
}

// BenchmarkKeyParts takes the way of a key apart.
func BenchmarkKeyParts(b *testing.B) {
	h := zoned(b, 120, 40)
	scene := h.Scene()
	shadow := h.screen.(*term.Shadow)
	for _, part := range []struct {
		name string
		do   func()
	}{
		{"press", func() { h.pass(keyGap); h.widget.key(event('z')) }},
		{"scene", func() { scene = h.Scene() }},
		{"frame", func() { view.Draw(scene, 120, 40) }},
		{"clear", h.screen.Clear},
		{"draw", func() { h.widget.Draw(h.screen) }},
		{"show", shadow.Show},
	} {
		b.Run(part.name, func(b *testing.B) {
			for b.Loop() {
				part.do()
			}
		})
	}
}

// perPiece is how many courses are logged on one piece, so that its log stays as
// long as one between two anneals.
const perPiece = 64

func BenchmarkKeyThatLogs(b *testing.B) {
	for _, size := range benchSizes {
		for _, d := range []struct {
			name string
			open func(*testing.B) Desk
		}{
			{"memory", func(*testing.B) Desk { return memoryDesk(nil) }},
			{"record", func(b *testing.B) Desk { return openRecordDesk(b) }},
		} {
			b.Run(fmt.Sprintf("%dx%d/%s", size.w, size.h, d.name), func(b *testing.B) {
				h := newHandBench(b, d.open(b), size.w, size.h)
				for i := 0; b.Loop(); i++ {
					if i%perPiece == 0 {
						b.StopTimer()
						h.pieces = nil
						freshPiece(b, h, i)
						b.StartTimer()
					}
					h.meter.Reset()
					before := len(h.done)
					h.stroke(' ')
					if len(h.done) != before+1 {
						b.Fatalf("nothing was logged: %+v", h.toast)
					}
				}
			})
		}
	}
}

func freshPiece(b *testing.B, h *handBench, i int) {
	b.Helper()
	require.NoError(b, h.start(fmt.Sprint("rod ", i), schedule.Started{Alloy: "copper", Calliper: 0.1,
		Reading: schedule.Reading{Size: unit.Size{Shape: unit.Round, Diameter: 20}}}))
}

// BenchmarkBareAppend writes the rows of a course into the record and does nothing
// else: what a key that logs cannot be faster than.
func BenchmarkBareAppend(b *testing.B) {
	d := openRecordDesk(b)
	h := newHandBench(b, d, 80, 24)
	freshPiece(b, h, 0)
	at := h.now
	for b.Loop() {
		at = at.Add(time.Second)
		pass := schedule.Entry{ID: schedule.NewID(), At: at, Written: at, Bench: d.bench, Hand: d.hand, Piece: h.shown, Version: 1,
			Body: schedule.Pass{Process: "lengthen", Count: 1}}
		news := []schedule.Entry{pass, h.advice(h.current()).Keep(pass, at)}
		rows, err := encoded(news)
		if err != nil {
			b.Fatal(err)
		}
		if err := d.rec.Append(rows...); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTick is a second of a soak, drawn, and the bytes that such a second sends.
func BenchmarkTick(b *testing.B) {
	for _, size := range benchSizes {
		b.Run(fmt.Sprintf("%dx%d", size.w, size.h), func(b *testing.B) {
			h := newHandBench(b, memoryDesk(nil), size.w, size.h)
			h.press(square + "hc")
			h.pass(toastTime)
			var sent []int
			for b.Loop() {
				h.pass(time.Second)
				sent = append(sent, h.draw())
			}
			b.ReportMetric(float64(median(sent)), "bytes-median")
			b.ReportMetric(float64(slices.Max(sent)), "bytes-most")
		})
	}
}
