package main

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
	"dullred/schedule/share"
	"dullred/tui"
	pages "dullred/tui/view"
)

// neighbour is another bench, whose entries a carrier brings.
type neighbour struct {
	t           testing.TB
	rec         *record.Record
	bench, hand schedule.ID
	labels      []record.Label
}

// neighbourOf opens a record as a carrier does, for the entries of another bench.
func neighbourOf(t testing.TB, path string) *neighbour {
	t.Helper()
	rec, err := record.Open(path)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, rec.Close()) })
	n := &neighbour{t: t, rec: rec, bench: schedule.NewID(), hand: schedule.NewID()}
	n.labels = []record.Label{{ID: string(n.bench), Class: record.BenchClass, Text: "bench 2"}, {ID: string(n.hand), Class: record.HandClass, Text: "smith 2"}}
	return n
}

// logs brings an entry of a piece.
func (n *neighbour) logs(piece schedule.ID, at time.Time, body schedule.Body) schedule.Entry {
	n.t.Helper()
	e := schedule.Entry{ID: schedule.NewID(), At: schedule.Moment(at), Written: schedule.Moment(at), Bench: n.bench, Hand: n.hand,
		Piece: piece, Version: 1, Body: body}
	row, err := schedule.Encode(e)
	require.NoError(n.t, err)
	require.NoError(n.t, n.rec.AppendNamed(n.labels, record.Row(row)))
	return e
}

func passTo(thick, width float64) schedule.Body {
	return schedule.Pass{Process: coldwork.Lengthen, Count: 1,
		Reading: schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: unit.Millimetre(thick), Width: unit.Millimetre(width)}}}
}

// screened is a bench screen on a record.
type screened struct {
	*tui.Bench
	t    testing.TB
	desk desk
	now  *time.Time
}

// screenOn opens the screen as the command does, at a moment.
func screenOn(t testing.TB, path string, now *time.Time) *screened {
	t.Helper()
	a := &app{now: func() time.Time { return *now }, record: path, getenv: func(string) string { return "" }}
	b, err := a.openAt(path, usualConfig())
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, b.close()) })
	s := &screened{t: t, desk: desk{bench: b}, now: now}
	s.Bench, err = tui.NewBench(tui.Config{Desk: s.desk, Location: time.UTC,
		Clock: tui.Clock{Wall: func() time.Time { return *now }, Boot: func() (time.Duration, bool) { return 0, false }}})
	require.NoError(t, err)
	s.Resize(80, 24)
	return s
}

// hear does what the program does when others wrote.
func (s *screened) hear() {
	s.t.Helper()
	changed, err := s.desk.Changed()
	require.NoError(s.t, err)
	require.True(s.t, changed)
	s.Reload()
}

func (s *screened) keys(text string) {
	for _, r := range text {
		*s.now = s.now.Add(time.Second)
		s.Press(tui.Press{Rune: r})
	}
}

func (s *screened) strain() float64 { return float64(s.Scene().Piece.Advice.Done.Strain) }

// near is the log of the page read close, newest first.
func (s *screened) near() []string {
	s.keys("v")
	defer s.Press(tui.Press{Key: tui.Escape})
	require.Equal(s.t, pages.Near, s.Scene().Page)
	return s.Scene().Piece.Log
}

// Two benches work one piece: what comes in under the open screen is seen, with where it
// is from, and counts, also where it is older than what is there.
func TestTwoBenchesAtOnePiece(t *testing.T) {
	path, now := filepath.Join(t.TempDir(), "record.db"), time.Now().UTC()
	ran(t, path, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8", "--at", now.Add(-50*time.Minute).Local().Format("2006-01-02 15:04"))
	ran(t, path, "pass", "spoon", "7.2x7.8", "--at", now.Add(-20*time.Minute).Local().Format("2006-01-02 15:04"))
	s := screenOn(t, path, &now)
	alone := s.strain()
	require.Positive(t, alone)
	spoon := pieceOn(t, s)

	n := neighbourOf(t, path)
	_, err := s.desk.Changed()
	require.NoError(t, err)
	n.logs(spoon, now.Add(-5*time.Minute), passTo(6.4, 7.6))
	s.hear()
	both := s.strain()
	require.Greater(t, both, alone+0.1, "the pass of the other bench counts")
	require.Contains(t, s.near()[0], "(at bench 2)")
	require.NotContains(t, s.near()[1], "(at ")

	n.logs(spoon, now.Add(-35*time.Minute), passTo(7.6, 7.9))
	s.hear()
	log := s.near()
	require.Contains(t, log[2], "7.6x7.9 mm (at bench 2)", "it stands where it happened")
	require.InDelta(t, both, s.strain(), 0.05, "an older reading lies on the way to the newer one")
	require.InDelta(t, s.strain(), screenOn(t, path, &now).strain(), 1e-12, "a screen opened anew sees the same")

	text := strings.Join(strings.Fields(ran(t, path, "log", "spoon")), " ")
	require.Equal(t, 2, strings.Count(text, "by smith 2 at bench 2"), text)
	require.NotContains(t, text, "by smith at")
	require.Equal(t, 2, strings.Count(ran(t, path, "log", "--kind", "pass"), " at bench 2\n"))
	var entries []entryJSON
	require.NoError(t, json.Unmarshal([]byte(ran(t, path, "log", "spoon", "--json")), &entries))
	require.Empty(t, entries[0].Bench, "this one")
	require.Contains(t, ran(t, path, "sheet", "spoon"), "smith 2")
}

// pieceOn is the one piece of a screen.
func pieceOn(t testing.TB, s *screened) schedule.ID {
	c, err := s.desk.Load()
	require.NoError(t, err)
	require.Len(t, c.Pieces, 1)
	return c.Pieces[0].ID
}

// The clock of another bench is ahead: its pass has happened all the same, on the screen
// and in a command, and this bench goes on.
func TestBenchWhoseClockIsAhead(t *testing.T) {
	path, now := filepath.Join(t.TempDir(), "record.db"), time.Now().UTC()
	ran(t, path, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	now = now.Add(time.Second)
	s := screenOn(t, path, &now)
	neighbourOf(t, path).logs(pieceOn(t, s), now.Add(time.Hour), passTo(5.2, 7.4))
	s.hear()
	require.Greater(t, s.strain(), 0.3)
	require.Contains(t, ran(t, path, "advise", "spoon"), s.Scene().Piece.Section, "the reading counts")
	require.NotContains(t, ran(t, path, "advise", "spoon", "--now", now.Local().Format("2006-01-02 15:04:05")), s.Scene().Piece.Section,
		"what is asked of a moment is answered for that")
	s.keys(" ")
	require.False(t, s.Scene().Bad, s.Scene().Toast)
	require.Contains(t, s.near()[2], "pass: lengthen", "the blow of this bench, below what lies ahead")
	require.Equal(t, "lengthen", s.Scene().Piece.Work)

	again := screenOn(t, path, &now)
	again.keys(" ")
	require.Contains(t, strings.Join(again.near()[:2], "\n"), "5.2x7.4", "it stays on top, beside the alert of the same moment")
	c, err := again.desk.Load()
	require.NoError(t, err)
	for _, e := range slices.Concat(c.Bench, c.Clocks) {
		require.NotEqual(t, schedule.KindClockStep, e.Kind(), "an alert that is dated by the other clock does not set this one")
	}
}

// u takes back what this screen logged, whatever came in since.
func TestUndoLeavesOtherBenches(t *testing.T) {
	path, now := filepath.Join(t.TempDir(), "record.db"), time.Now().UTC()
	ran(t, path, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	now = now.Add(time.Minute)
	s := screenOn(t, path, &now)
	spoon, n := pieceOn(t, s), neighbourOf(t, path)
	s.keys(" ")
	theirs := n.logs(spoon, now.Add(time.Second), passTo(7.0, 7.8))
	now = now.Add(2 * time.Second)
	s.hear()
	s.keys("u")
	require.Contains(t, s.Scene().Toast, "taken back")
	s.keys("u")
	require.True(t, s.Scene().Bad, "there is nothing more of this bench to undo")
	c, err := s.desk.Load()
	require.NoError(t, err)
	dead := schedule.Voided(c.Pieces[0].Entries)
	require.NotEmpty(t, dead)
	require.False(t, dead[theirs.ID])
}

// A step of a heat that another bench logged is moved after asking only, and the entry
// that stands for it then is of this bench: else no carrier would take it along.
func TestMovedStepOfAnotherBench(t *testing.T) {
	path, now := filepath.Join(t.TempDir(), "record.db"), time.Now().UTC()
	ran(t, path, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	now = now.Add(5 * time.Minute)
	s := screenOn(t, path, &now)
	spoon, n := pieceOn(t, s), neighbourOf(t, path)
	begun := n.logs(spoon, now.Add(-time.Minute), schedule.Begun{})
	s.hear()
	s.keys("-")
	require.Contains(t, s.Scene().Ask, "bench 2")
	c, err := s.desk.Load()
	require.NoError(t, err)
	require.Empty(t, schedule.Voided(c.Pieces[0].Entries))
	s.keys("-")
	c, err = s.desk.Load()
	require.NoError(t, err)
	require.True(t, schedule.Voided(c.Pieces[0].Entries)[begun.ID])
	for _, e := range c.Pieces[0].Entries {
		if e.ID != begun.ID {
			require.NotEqual(t, n.bench, e.Bench, e.Describe())
		}
	}
}

// A hand of another bench is never taken for one of this bench, whether it came in
// before the record was opened or after.
func TestOwnHand(t *testing.T) {
	for _, when := range []string{"before", "after"} {
		t.Run(when, func(t *testing.T) {
			path, now := filepath.Join(t.TempDir(), "record.db"), time.Now().UTC().Add(-time.Minute)
			n := neighbourOf(t, path)
			n.labels[1].Text = "smith"
			come := func() { n.logs(schedule.NewID(), now, passTo(7, 7)) }
			if when == "before" {
				come()
			}
			s := screenOn(t, path, &now)
			if when == "after" {
				come()
			}
			require.NotEqual(t, n.hand, s.desk.bench.here.hand)
			s.keys("bsterling")
			for _, k := range []tui.Press{{Key: tui.Enter}, {Rune: '8'}, {Rune: 'x'}, {Rune: '8'}, {Key: tui.Enter}, {Rune: 'y'}, {Key: tui.Enter}} {
				now = now.Add(time.Second)
				s.Press(k)
			}
			require.False(t, s.Scene().Bad, s.Scene().Toast)
			require.Nil(t, s.Scene().Form, "the piece is begun")
			names := map[string]string{}
			labels, err := n.rec.Labels(record.HandClass)
			require.NoError(t, err)
			for _, l := range labels {
				names[l.Text] = l.ID
			}
			require.Equal(t, map[string]string{"smith": string(s.desk.bench.here.hand), "smith 2": string(n.hand)}, names)
			again := screenOn(t, path, &now)
			require.Equal(t, s.desk.bench.here.hand, again.desk.bench.here.hand, "it is found again")
			require.Equal(t, s.desk.bench.here.bench, again.desk.bench.here.bench)
		})
	}
}

// The last line of the list of pieces, and what a check of the record tells a machine.
func TestListTellsOfSharing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	ran(t, path, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	plain := ran(t, path, "piece", "list")
	require.NotContains(t, ran(t, path, "record", "check", "--json"), "sharing")
	leave := func(text string) { require.NoError(t, os.WriteFile(share.BeaconPath(path), []byte(text), 0o600)) }

	share.BeaconFile(share.BeaconPath(path)).Shared(time.Now().Add(-3 * time.Hour))
	require.Equal(t, plain+"the record: shared 3 h ago\n", ran(t, path, "piece", "list"))
	require.Contains(t, ran(t, path, "record", "check", "--json"), `"shared": "`)
	leave(`{"alone_since":"2024-03-05T18:02:00Z","why":"\u001b[31mno route"}`)
	alone := ran(t, path, "piece", "list")
	require.Contains(t, alone, "the record: alone since 2024-03-05 ")
	require.NotContains(t, alone, "route")
	require.Contains(t, ran(t, path, "record", "check", "--json"), `"alone_since": "2024-03-05T18:02:00Z"`)
	for _, damaged := range []string{"", "{", "null", "[]", `{"shared":"yesterday"}`, `{"shared":"2024-03-05T18:02:00Z","alone_since":"2024-03-05T18:02:00Z"}`,
		strings.Repeat(" ", 100<<10)} {
		leave(damaged)
		require.Equal(t, plain, ran(t, path, "piece", "list"), "%.60q", damaged)
		require.NotContains(t, ran(t, path, "record", "check", "--json"), "sharing", "%.60q", damaged)
	}
	require.NoError(t, os.Remove(share.BeaconPath(path)))
	require.NoError(t, os.Mkdir(share.BeaconPath(path), 0o700))
	require.Equal(t, plain, ran(t, path, "piece", "list"), "a folder in its place")
}

// The lookout reads a beacon when its file is another, and looks for the carrier when the
// beacon has been silent, once a minute.
func TestLookout(t *testing.T) {
	path, now := filepath.Join(t.TempDir(), "record.db"), time.Now()
	asked, ended := 0, true
	l := lookout{record: path, now: func() time.Time { return now }, ended: func(string) bool { asked++; return ended }}
	say := func(want string, changes bool) {
		t.Helper()
		how, changed, again := l.Look()
		require.Equal(t, changes, changed)
		require.Equal(t, l.seen != nil, again > 0, "without a beacon nothing is looked for again")
		require.LessOrEqual(t, again, share.Stale+time.Second)
		require.Equal(t, want, how.Words(now))
	}
	say("", false)
	f := share.BeaconFile(share.BeaconPath(path))
	f.Shared(now)
	require.NoError(t, os.Chtimes(share.BeaconPath(path), now, now), "the clock of the file system is coarser")
	say("shared just now", true)
	say("shared just now", false)
	require.Zero(t, asked, "nobody is looked for while the beacon is young")
	now = now.Add(share.Stale)
	say("shared 1 min ago", false)
	now = now.Add(time.Second)
	say("shared 1 min ago, dullred-share does not run", true)
	for range 30 {
		say("shared 1 min ago, dullred-share does not run", false)
	}
	require.Equal(t, 1, asked)
	ended = false
	now = now.Add(2 * time.Minute)
	say("shared 3 min ago", true)
	f.Alone(now, "no route")
	say("alone since "+now.Format("15:04"), true)
	require.NoError(t, os.Remove(share.BeaconPath(path)))
	say("", true)
	require.Equal(t, 2, asked)
}

// A carrier that works has the lock, and looking for it takes nothing from it.
func TestCarrierEnded(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	require.True(t, carrierEnded(path), "none was ever here")
	_, err := os.Stat(share.LockPath(path))
	require.True(t, errors.Is(err, os.ErrNotExist), "and none is made by asking")
	lock, err := share.Lone(share.LockPath(path))
	require.NoError(t, err)
	require.False(t, carrierEnded(path))
	require.NoError(t, lock.Release())
	require.True(t, carrierEnded(path))
	lock, err = share.Lone(share.LockPath(path))
	require.NoError(t, err, "the lock is given back")
	require.NoError(t, lock.Release())
	require.NoError(t, os.Remove(share.LockPath(path)))
	require.NoError(t, os.Mkdir(share.LockPath(path), 0o700))
	require.False(t, carrierEnded(path), "what cannot be found out is not said")
}
