package tui

import (
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/share"
	"dullred/tui/view"
)

// sharingMoments are those of a bench beside which a carrier works, or worked.
var sharingMoments = []moment{
	{"sharing-now", func(t *testing.T, s *stage) { spoon(t, s).shared(2 * time.Second) }},
	{"sharing-age", func(t *testing.T, s *stage) { spoon(t, s).shared(44 * time.Second) }},
	{"sharing-alone", func(t *testing.T, s *stage) { spoon(t, s).alone(time.Hour) }},
	{"sharing-alone-days", func(t *testing.T, s *stage) {
		s.piece(t, "ring for the summer fair", "AG925", "8x8").worked(t, "7.2x7.8").alone(26 * time.Hour)
	}},
	{"sharing-near", func(t *testing.T, s *stage) { spoon(t, s).alone(time.Hour).keys("v") }},
	{"sharing-board", func(t *testing.T, s *stage) { class(t, s).keys("vv").wait(15 * time.Second).shared(5 * time.Minute) }},
	{"sharing-empty", func(_ *testing.T, s *stage) { s.alone(time.Hour) }},
	{"sharing-answer", func(t *testing.T, s *stage) { spoon(t, s).alone(time.Hour).keys(" ") }},
	{"sharing-call", func(t *testing.T, s *stage) { spoon(t, s).worked(t, "4.6x6.4").alone(26 * time.Hour) }},
}

// shared has a carrier say that all was shared a while ago.
func (s *stage) shared(ago time.Duration) *stage {
	return s.carried(share.Standing{Shared: s.wall.Add(-ago)})
}

// alone has a carrier say that the bench has been by itself for a while.
func (s *stage) alone(d time.Duration) *stage {
	return s.carried(share.Standing{AloneSince: s.wall.Add(-d), Why: "the cable is out"})
}

func (s *stage) carried(how Sharing) *stage {
	s.sharing.Store(&how)
	return s
}

// Where nobody shares, nothing is said of it.
func TestNobodyShares(t *testing.T) {
	for _, m := range moments {
		if !strings.HasPrefix(m.name, "sharing") {
			require.Empty(t, m.stage(t).Scene().Sharing, m.name)
		}
	}
	s := spoon(t, newStage(t))
	before := s.text()
	s.carried(nil)
	require.Equal(t, before, s.text(), "what is damaged says nothing")
	s.carried(share.Standing{})
	require.Equal(t, before, s.text())
	s.shared(time.Hour).desk.Invented = true
	require.NotContains(t, s.text(), "shared", "an invented class is not shared")
}

// The words take only cells that were empty, on every page and at every size.
func TestSharingGivesWay(t *testing.T) {
	words := map[string]string{}
	for _, m := range moments {
		for _, size := range sizes {
			s := m.stage(t)
			s.carried(nil)
			before := s.frame(size.w, size.h)
			s.alone(30 * 24 * time.Hour)
			after := s.frame(size.w, size.h)
			if s.page == view.Near {
				continue // a line of the text
			}
			for i := range size.w * size.h {
				x, y := i%size.w, i/size.w
				if was := before.At(x, y); was.Rune != ' ' || was.Role != view.Plain && was.Role != view.Title {
					require.Equal(t, was, after.At(x, y), "%s at %dx%d, cell %d,%d", m.name, size.w, size.h, x, y)
				}
			}
			if strings.Contains(after.String(), "alone since 2026-02-01 ") {
				words[fmt.Sprint(size)] += m.name + " "
			}
		}
	}
	for _, size := range sizes {
		require.Contains(t, words[fmt.Sprint(size)], "carry-on", "there is room at %v", size)
	}
}

// On the smallest screens that are usual nothing but an answer, a question or a caution
// hides the words beside a spoon.
func TestSharingAt80Columns(t *testing.T) {
	s := spoon(t, newStage(t)).alone(57 * time.Minute)
	require.Contains(t, strings.Split(s.text(), "\n")[0], "alone since 18:0")
	s.piece(t, "a name that leaves the title no room", "AG925", "8x8", "tip", "middle", "butt").keys("z")
	lines := strings.Split(s.wait(time.Minute).text(), "\n")
	require.NotContains(t, lines[0], "alone")
	require.Contains(t, lines[22], "alone since 18:0", "where an answer would stand")
	s.keys(" ")
	require.NotContains(t, s.text(), "alone", "the answer comes first")
	require.Contains(t, s.wait(11*time.Second).text(), "alone", "and goes")
	require.NotContains(t, s.text(), "cable", "a text from elsewhere is not shown")
}

// A piece of another bench is said to be there wherever its name calls, and the screen opens
// on one of this bench, though the other is hot.
func TestPieceOfAnotherBench(t *testing.T) {
	s := spoon(t, newStage(t)).piece(t, "bowl", "AG925", "8x8").keys("hco")
	mine, theirs := s.desk.Pieces[0].Name, &s.desk.Pieces[1]
	for i := range theirs.Entries {
		theirs.Entries[i].Bench = "0198f4b6-0000-7000-8000-0000000000b1"
	}
	first := func() string { return strings.Split(s.text(), "\n")[0] }
	s.open(t)
	require.True(t, strings.HasPrefix(first(), " "+mine+" - "), first())
	require.Contains(t, first(), "HOT: bowl at another bench")
	s.keys("n")
	require.True(t, strings.HasPrefix(first(), " bowl - at another bench - "), first())
	s.keys("q").wait(time.Minute)
	require.True(t, strings.HasPrefix(first(), " bowl - whole - "), "who does something to it has it: %s", first())
	theirs.Entries = append(theirs.Entries, schedule.Entry{ID: "0198f4b6-0000-7000-8000-0000000000e1", At: s.wall, Written: s.wall, Version: 1,
		Bench: theirs.Entries[0].Bench, Hand: stageHand, Piece: theirs.ID, Body: schedule.CrackSeen{}})
	s.open(t).wait(time.Second)
	require.Contains(t, s.text(), "NOTE: CRACK OPEN - bowl at another bench")
}

// Figures and dates are in the smith's style.
func TestSharingInStyle(t *testing.T) {
	s := spoon(t, newStage(t)).shared(3 * time.Minute)
	s.style = unit.Style{Inches: true, Fahrenheit: true, Comma: true, Dates: unit.DayDots}
	require.Contains(t, s.text(), "shared 3 min ago")
	require.Contains(t, s.shared(40*time.Second).text(), "shared 40 s ago")
	require.Contains(t, s.shared(3*time.Hour).text(), "shared 3 h ago")
	require.Contains(t, s.alone(9*24*time.Hour).text(), "alone since 22.02.2026 19:0")
}

// An age changes by itself, when it is due and not before.
func TestSharingWakes(t *testing.T) {
	s := spoon(t, newStage(t)).wait(time.Minute)
	_, wakes := s.Wake()
	require.False(t, wakes, "nothing changes by itself")
	s.shared(44 * time.Second)
	wait, wakes := s.Wake()
	require.True(t, wakes)
	require.Equal(t, 6*time.Second, wait)
	require.Contains(t, s.text(), "shared 40 s ago")
	require.Contains(t, s.wait(wait).text(), "shared 50 s ago")
}

// lantern is what a carrier leaves, changed by the test.
type lantern struct {
	left   atomic.Pointer[share.Standing]
	seen   *share.Standing
	looks  atomic.Int64
	notify func()
}

func (l *lantern) Watch(notify func()) (stop func() error, err error) {
	l.notify = notify
	return func() error { return nil }, nil
}

func (l *lantern) Look() (Sharing, bool, time.Duration) {
	l.looks.Add(1)
	now := l.left.Load()
	changed := now != l.seen
	if l.seen = now; now == nil {
		return nil, changed, 0
	}
	return *now, changed, time.Hour
}

func (l *lantern) leave(s *share.Standing) {
	l.left.Store(s)
	l.notify()
}

// The program looks when there is word or it is due, and writes nothing to the screen unless words change.
func TestEveningSharing(t *testing.T) {
	inEvening(t, memoryDesk, func(e *evening) {
		var l lantern
		e.sharing = &l
		e.restart()
		e.keys("bsterling\n8x8\ny\n")
		e.wait(time.Minute)
		require.NotContains(t, e.text(), "shared")
		require.EqualValues(t, 1, l.looks.Load(), "nobody left word")
		l.leave(&share.Standing{Shared: e.wall()})
		e.wait(2 * time.Second)
		e.shows("shared just now")
		before, draws := e.text(), e.canvas.draws.Load()
		for range 10 {
			l.leave(&share.Standing{Shared: e.wall()})
			e.wait(12 * time.Second)
			require.Equal(t, before, e.text(), "the beat of a carrier is not seen")
		}
		require.LessOrEqual(t, e.canvas.draws.Load()-draws, int64(11), "once for each word of the carrier")
		e.wait(30 * time.Second)
		e.shows("shared 40 s ago")
		e.wait(3 * time.Hour)
		e.shows("shared 3 h ago")
		l.leave(&share.Standing{AloneSince: e.wall()})
		e.wait(2 * time.Second)
		e.shows("alone since 22:0")
		e.wait(24 * time.Hour)
		e.shows("alone since Tue 22:0")
		l.leave(nil)
		e.wait(2 * time.Second)
		require.NotContains(t, e.text(), "alone", "what is gone says nothing")
		require.EqualValues(t, 1+13+27, l.looks.Load(), "once for each word, and once an hour")
	})
}

// Bytes that the beat of a carrier, and then its silence, send to the terminal.
func TestBytesOfSharing(t *testing.T) {
	for _, size := range []struct{ w, h int }{{120, 40}, {80, 24}} {
		t.Run(fmt.Sprintf("%dx%d", size.w, size.h), func(t *testing.T) {
			h := newHandBench(t, memoryDesk(nil), size.w, size.h)
			h.press(square)
			h.pass(time.Minute)
			h.draw()
			require.Zero(t, h.cells(), "nothing changed")
			var how Sharing = share.Standing{Shared: h.now}
			h.sharing.Store(&how)
			require.Positive(t, h.cells())
			total, most := 0, 0
			for second := range 600 {
				h.pass(time.Second)
				sent := h.cells()
				if second < 19 {
					require.Zero(t, sent, "just now, for as long as a carrier beats")
				}
				total, most = total+sent, max(most, sent)
			}
			t.Logf("%d bytes at most in a tick, %d in ten minutes", most, total)
			require.LessOrEqual(t, most, 120)
			require.LessOrEqual(t, total, 1500, "a line of 9600 baud carries them in two seconds")
		})
	}
}

// hollow is what the library below sends with no cell in it, once, when it has learned
// how large the terminal is.
const hollow = "\x1b[?2026h\x1b[?25l\x1b[?25l\x1b[?2026l"

// cells is draw without what has no cell in it.
func (h *handBench) cells() int {
	n := h.draw()
	if h.meter.String() == hollow {
		return 0
	}
	return n
}
