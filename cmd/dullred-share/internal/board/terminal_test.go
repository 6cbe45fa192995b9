package board_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rivo/uniseg"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/cmd/dullred-share/internal/board"
	"dullred/schedule"
	"dullred/schedule/alert"
	rows "dullred/schedule/board"
)

// lockedBuffer is written by one goroutine and read by another.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// drawn is a terminal on which a feed is drawn, until end is called.
func drawn(t *testing.T, f *board.Feed, size func() (int, int)) (out *lockedBuffer, end func()) {
	out = &lockedBuffer{}
	ctx, cancel := context.WithCancel(context.Background())
	over := make(chan error, 1)
	go func() { over <- board.Terminal{Out: out, Now: now, Size: size}.Run(ctx, f) }()
	return out, func() {
		cancel()
		require.NoError(t, <-over)
	}
}

func says(t *testing.T, out *lockedBuffer, words string) {
	t.Helper()
	require.Eventually(t, func() bool { return strings.Contains(out.String(), words) }, 20*time.Second, 5*time.Millisecond, words)
}

// Where the output is no terminal each picture follows the one before, in plain text.
func TestTerminalRolls(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod(), to(7))
	s.send("bench 4", "bowl", rod(), to(5), schedule.Raised{Cause: "left", What: "hot piece left"})
	s.send("bench 4", "cup", rod(), to(7.5), schedule.Begun{})
	f := s.feed()
	until(t, f, shows(3))
	out, end := drawn(t, f, nil)
	says(t, out, "spoon")
	require.Equal(t, ""+
		"1 STOP  1 HOT  1 UNSEEN  3 pieces at 2 benches                                                 18:31\n"+
		"\n"+
		"STATE          BENCH                      PIECE                                   LIMIT, COURSES\n"+
		"DANGER !!!     bench 4                    bowl                                    136 %, 0 left\n"+
		"               DANGER: HOT PIECE LEFT - bowl (over now).\n"+
		"HOT            bench 4                    cup                                     in flame 18:30\n"+
		"CARRY ON       bench 3                    spoon                                   39 %, 1 to 3 left\n"+
		"\n", out.String())
	s.lose(errors.New("the cable is out"))
	says(t, out, "OLD since 18:31. The board is alone: the cable is out; below is what was known at 18:31.\n")
	end()
	require.NotContains(t, out.String(), "\x1b")
}

// On a terminal the page is drawn anew in its place, and the screen given back.
func TestTerminalDraws(t *testing.T) {
	s := newShop(t)
	for _, piece := range []string{"bar 1", "bar 2", "bar 3", "bar 4"} {
		s.send("bench 3", piece, rod())
	}
	f := s.feed()
	until(t, f, shows(4))
	out, end := drawn(t, f, func() (int, int) { return 60, 6 })
	says(t, out, "bar 2")
	require.Contains(t, out.String(), "(2 more below, which can wait)")
	require.NotContains(t, out.String(), "bar 3")
	require.True(t, strings.HasPrefix(out.String(), "\x1b[?1049h\x1b[?25l\x1b[H\x1b[1mNOTHING PRESSES  4 pieces at 1 bench"))
	s.send("bench 3", "bar 0", rod())
	says(t, out, "\x1b[H\x1b[1mNOTHING PRESSES  5 pieces at 1 bench")
	end()
	require.True(t, strings.HasSuffix(out.String(), "\x1b[?25h\x1b[?1049l"))
}

// Whatever pieces and benches are called, no line is wider than the screen and none
// holds a sequence for the terminal.
func TestTerminalFits(t *testing.T) {
	names := []string{"\x1b[2Jspoon", strings.Repeat("匙", 22), "e\u0301e\u0301", "two\nlines", "\u202espoon"}
	name := rapid.OneOf(rapid.StringN(1, 60, 200), rapid.SampledFrom(names))
	rapid.Check(t, func(rt *rapid.T) {
		s := newShop(t)
		text := func(of string) string { return strings.ReplaceAll(name.Draw(rt, of), "\x00", "") + " " + of }
		s.send(text("bench"), text("piece"), rod(), to(unit.Millimetre(rapid.Float64Range(4, 7.9).Draw(rt, "side"))), schedule.Begun{})
		f := board.NewFeed(s.open, now)
		ctx, cancel := context.WithCancel(t.Context())
		over := make(chan struct{})
		go func() { defer close(over); f.Run(ctx) }()
		until(t, f, shows(1))
		w := rapid.IntRange(50, 120).Draw(rt, "columns")
		screen := board.Screen(board.Terminal{Now: now, Size: func() (int, int) { return w, 40 }}, f)
		cancel()
		<-over
		screen = strings.TrimSuffix(strings.TrimPrefix(screen, "\x1b[H"), "\x1b[J")
		for _, line := range strings.Split(screen, "\r\n") {
			line, ok := strings.CutSuffix(line, "\x1b[K")
			require.True(rt, ok)
			line = bare(line)
			require.NotContains(rt, line, "\x1b")
			require.LessOrEqual(rt, uniseg.StringWidth(line), w, line)
		}
	})
}

// set are the sequences that set a line off.
var set = regexp.MustCompile("\x1b\\[(1|7|1;7)?m")

// bare is a line without what sets it off.
func bare(line string) string { return set.ReplaceAllString(line, "") }

// crowdOf are 30 benches, so many of which press in turn.
func crowdOf(press int) *board.Picture {
	p := &board.Picture{Read: evening}
	for n := range 30 {
		r := rows.Row{ID: schedule.ID(id(fmt.Sprint("piece ", n))), Bench: fmt.Sprintf("bench %02d", n+1), Piece: fmt.Sprint("spoon ", n+1), Verdict: schedule.VerdictCarryOn, Spent: 0.5, Last: evening}
		switch {
		case n >= press:
		case n%2 == 0:
			r.Verdict, r.Spent = schedule.VerdictAnnealNow, 1.1
		default:
			r.Verdict, r.Hot, r.Dark = schedule.VerdictWait, evening, true
		}
		p.Rows = append(p.Rows, r)
	}
	return p
}

// However many benches press, each of them is on the page of a terminal, and what is not is
// counted.
func TestTerminalHidesNothingHot(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {100, 30}} {
		terminal := board.Terminal{Now: now, Size: func() (int, int) { return size[0], size[1] }}
		for press := range 31 {
			lines := strings.Split(bare(board.Drawn(terminal, crowdOf(press))), "\r\n")
			require.LessOrEqual(t, len(lines), size[1])
			screen := strings.Join(lines, "\n")
			for n := range press {
				word := [...]string{"ANNEAL", "HOT"}[n%2]
				require.Regexp(t, fmt.Sprintf(word+` +bench %02d`, n+1), screen, "%d press at %v", press, size)
			}
			seen := strings.Count(screen, "bench ")
			if seen == 30 {
				require.NotContains(t, screen, "more below")
				continue
			}
			require.Contains(t, screen, fmt.Sprintf("(%d more below, which can wait)", 30-seen))
		}
	}
}

// Where all rows have room, and not the sentences of all alerts, those of what presses most
// stand; and a bench is called by what is wrong with it.
func TestTerminalTellsTheWorstFirst(t *testing.T) {
	alerted := func(c alert.Cause) []alert.Standing { return []alert.Standing{{Alert: alert.Alert{Cause: c}}} }
	p := &board.Picture{Read: evening, Rows: []rows.Row{{Bench: "bench 9", Spent: -1, Alerts: alerted(alert.TorchLeft)}}}
	for n := range 10 {
		p.Rows = append(p.Rows, rows.Row{Bench: fmt.Sprintf("bench %d", n), Piece: fmt.Sprint("spoon ", n), Spent: 0.8, Alerts: alerted(alert.AnnealSoon)})
	}
	lines := strings.Split(bare(board.Drawn(board.Terminal{Now: now, Size: func() (int, int) { return 80, 16 }}, p)), "\r\n")
	require.Len(t, lines, 16)
	require.Regexp(t, `^DANGER !!! +bench 9 +torch left lit`, lines[3])
	require.Contains(t, lines[4], "DANGER: TORCH LEFT LIT")
	require.Equal(t, 1, strings.Count(strings.Join(lines, "\n"), "NOTE: ANNEAL SOON"))
	require.Contains(t, lines[15], "bench 9 ")
}

// Where not even what presses has room, what it is is counted.
func TestTerminalCountsWhatIsHot(t *testing.T) {
	terminal := board.Terminal{Now: now, Size: func() (int, int) { return 60, 10 }}
	require.Contains(t, bare(board.Drawn(terminal, crowdOf(30))), "(23 more below: 11 STOP, 12 HOT)")
}

// An empty board says what it waits for.
func TestTerminalOfNobody(t *testing.T) {
	p := &board.Picture{Read: now()}
	require.Contains(t, board.Drawn(board.Terminal{Now: now, Size: func() (int, int) { return 100, 24 }}, p), "Each bench that is to be here needs dullred-share run beside it.")
}
