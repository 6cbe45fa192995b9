//go:build system && linux

package main

import (
	"bufio"
	"database/sql"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/cmd/internal/built"
	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// workshop is a bench and a shared record that hold the same past, and the program.
type workshop struct {
	past
	program, record string
	server          *pgtest.Server
	database        string
	password        string // file
	here, there     string // benches: of the record, and another one
	to, board       string // the shared record for the bench, and for one who reads
	other           share.Store
	worked          time.Duration // of a processor, by the program
}

func newWorkshop(tb testing.TB, entries int) *workshop {
	tb.Helper()
	w := &workshop{past: past{entries: entries, end: time.Now().Add(-time.Minute)}, program: built.Program(tb, "dullred/cmd/dullred-share"), record: filepath.Join(tb.TempDir(), "record.db"),
		server: pgtest.Common(tb), password: pgtest.Secret(tb, rolePassword), here: benchOf(pastBenches - 1), there: benchOf(pastBenches - 2)}
	w.database = w.server.Database(tb)
	_, _, err := postgres.Prepare(tb.Context(), w.owner())
	require.NoError(tb, err)
	w.called, w.to = w.role(tb, postgres.Writer)
	_, w.board = w.role(tb, postgres.Reader)
	_, there := w.role(tb, postgres.Writer)
	w.store(tb, w.server, w.database)
	w.keep(tb, w.record, w.here)
	w.other, err = postgres.Open(tb.Context(), postgres.Config{URL: there, PasswordFile: w.password, Bench: w.there})
	require.NoError(tb, err)
	tb.Cleanup(func() { require.NoError(tb, w.other.Close()) })
	return w
}

func (w *workshop) owner() postgres.Config {
	return postgres.Config{URL: w.server.URL(pgtest.Owner, w.database), PasswordFile: w.server.PasswordFile}
}

// role makes a role and gives its name and its way to the shared record.
func (w *workshop) role(tb testing.TB, as string) (name, url string) {
	name = pgtest.Name(as)
	require.NoError(tb, postgres.AddRole(tb.Context(), w.owner(), postgres.Login{Name: name, As: as, Password: rolePassword}))
	return name, w.server.URL(name, w.database)
}

// run runs a command beside the bench, as a process, and gives what it printed.
func (w *workshop) run(tb testing.TB, args ...string) string {
	tb.Helper()
	cmd := exec.Command(w.program, append(args, "--to", w.to, "--password-file", w.password, "--record", w.record)...)
	out, err := cmd.CombinedOutput()
	require.NoError(tb, err, string(out))
	w.worked += cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	return string(out)
}

// carried makes the ledger, after a first look at the record, that of a carrier that has
// taken all of the past to the shared record and from there, page by page.
func (w *workshop) carried(tb testing.TB) {
	tb.Helper()
	page, err := w.other.After(tb.Context(), int64(w.entries), 1)
	require.NoError(tb, err)
	total, err := w.other.Total(tb.Context())
	require.NoError(tb, err)
	db, err := sql.Open("sqlite", w.record+ledgerEnd)
	require.NoError(tb, err)
	tx, err := db.Begin()
	require.NoError(tb, err)
	change := func(statement string, args ...any) {
		_, err := tx.Exec(statement, args...)
		require.NoError(tb, err)
	}
	var last int64
	for b := range w.batches() {
		last += int64(len(b.Labels) + len(b.Rows))
		for _, l := range b.Labels {
			sent := ""
			if b.Rows[0].Bench == w.here {
				sent = l.Text
			}
			change(`UPDATE label SET there = ?, sent = ? WHERE id = ?`, l.Text, sent, l.ID)
		}
	}
	change(`DELETE FROM unsent`)
	change(`UPDATE store SET record = ?, cursor = ?, count = ?, digest = ?`, page.Record, last, total.Count, int64(total.Digest))
	require.NoError(tb, tx.Commit())
	require.NoError(tb, db.Close())
}

// news are some notes of a bench about a new piece, of this moment.
func (w *workshop) news(n int, bench string) (b share.Batch) {
	piece := string(schedule.NewID())
	b.Labels = []share.Label{{ID: piece, Class: "piece", Text: "spoon " + piece[:8] + piece[19:]}}
	for range n {
		b.Rows = append(b.Rows, about(bench, piece, schedule.Note{Text: "the edge is warm"}))
	}
	return b
}

// about is what a bench says of a piece at this moment.
func about(bench, piece string, body schedule.Body) schedule.Row {
	now := time.Now().Round(0)
	row, err := schedule.Encode(schedule.Entry{ID: schedule.NewID(), At: now, Written: now, Bench: schedule.ID(bench),
		Hand: schedule.ID(bench), Piece: schedule.ID(piece), Version: 1, Body: body})
	if err != nil {
		panic(err) // a body that is no JSON is a mistake in a test
	}
	return row
}

// sends has the other bench store something.
func (w *workshop) sends(tb testing.TB, b share.Batch) {
	_, err := w.other.Send(tb.Context(), b)
	require.NoError(tb, err)
}

// logs has this bench write something to its record.
func (w *workshop) logs(tb testing.TB, b share.Batch) {
	r, err := record.Open(w.record)
	require.NoError(tb, err)
	var rows []record.Row
	for _, row := range b.Rows {
		rows = append(rows, record.Row(row))
	}
	require.NoError(tb, r.AppendNamed([]record.Label{{ID: b.Labels[0].ID, Class: record.PieceClass, Text: b.Labels[0].Text}}, rows...))
	require.NoError(tb, r.Close())
}

// pictures is a board that runs as a process.
type pictures struct {
	shop *workshop
	cmd  *exec.Cmd
	text *bufio.Reader
}

func (w *workshop) pictures(tb testing.TB) *pictures {
	cmd := exec.Command(w.program, "board", "--to", w.board, "--password-file", w.password)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	require.NoError(tb, err)
	require.NoError(tb, cmd.Start())
	return &pictures{w, cmd, bufio.NewReader(out)}
}

// next waits for the next picture, to its last line. There is an empty line in it, below
// its head, and one at its end. A board that shows nothing for minutes is ended.
func (p *pictures) next(tb testing.TB) string {
	tb.Helper()
	defer time.AfterFunc(2*time.Minute, func() { _ = p.cmd.Process.Kill() }).Stop()
	var b strings.Builder
	for empty := 0; empty < 2; {
		line, err := p.text.ReadString('\n')
		require.NoError(tb, err)
		if b.WriteString(line); line == "\n" {
			empty++
		}
	}
	return b.String()
}

func (p *pictures) end(tb testing.TB) {
	require.NoError(tb, p.cmd.Process.Signal(syscall.SIGTERM))
	_, _ = io.Copy(io.Discard, p.text)
	require.NoError(tb, p.cmd.Wait())
	p.shop.worked += p.cmd.ProcessState.UserTime() + p.cmd.ProcessState.SystemTime()
}

// A ledger that was told what was carried is to the letter that of a carrier that carried
// it, and the sums of the server are those reckoned here.
func TestSystemPast(t *testing.T) {
	w := newWorkshop(t, 3_000)
	sums, err := w.other.Sums(t.Context())
	require.NoError(t, err)
	require.Equal(t, w.sums(), sums)
	total, err := w.other.Total(t.Context())
	require.NoError(t, err)
	var all share.Sum
	for _, s := range sums {
		all = share.Sum{Count: all.Count + s.Count, Digest: all.Digest + s.Digest}
	}
	require.Equal(t, all, total)
	require.EqualValues(t, w.entries, total.Count)

	require.Contains(t, w.run(t, "compare"), "equal ")
	w.carried(t)
	told := w.ledger(t)
	require.NoError(t, os.Remove(w.record+ledgerEnd))
	require.Contains(t, w.run(t, "send"), fmt.Sprintf("sent      %d entries", pastEvening))
	require.Contains(t, w.run(t, "collect"), "came in   0 entries")
	require.Empty(t, apartFrom(w.ledger(t), told))
	require.Contains(t, w.run(t, "compare"), "equal ")
}

// apartFrom are the lines that only one of two texts has.
func apartFrom(a, b []string) (only []string) {
	times := map[string]int{}
	for _, line := range a {
		times[line]++
	}
	for _, line := range b {
		times[line]--
	}
	for line, n := range times {
		if n != 0 {
			only = append(only, line)
		}
	}
	return only
}

// ledger is all that the ledger holds, as text.
func (w *workshop) ledger(tb testing.TB) (all []string) {
	db, err := sql.Open("sqlite", w.record+ledgerEnd)
	require.NoError(tb, err)
	defer db.Close()
	rows, err := db.Query(`SELECT concat('known ', k.id, ' ', p.id, ' ', k.digest, ' ', k.own) FROM known k JOIN piece p ON p.n = k.piece
		UNION ALL SELECT concat('piece ', id, ' ', count, ' ', digest) FROM piece
		UNION ALL SELECT concat('unsent ', id, ' ', why) FROM unsent
		UNION ALL SELECT concat('label ', id, ' ', class, ' ', had, ' ', there, ' ', sent) FROM label
		UNION ALL SELECT concat('store ', name, ' ', record, ' ', cursor, ' ', count, ' ', digest) FROM store
		ORDER BY 1`)
	require.NoError(tb, err)
	defer rows.Close()
	for rows.Next() {
		var line string
		require.NoError(tb, rows.Scan(&line))
		all = append(all, line)
	}
	require.NoError(tb, rows.Err())
	return all
}

// BenchmarkSystemGrowth runs the program against records of a thousand to a million
// entries. Each time is that of the whole process, or of the board from an entry that is
// stored to the picture that shows it.
func BenchmarkSystemGrowth(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000, 1_000_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			begun := time.Now()
			w := newWorkshop(b, n)
			b.Logf("to make it took %v", time.Since(begun))
			begun = time.Now()
			require.Contains(b, w.run(b, "compare"), "equal ")
			b.Logf("the first look at a record without a ledger took %v", time.Since(begun))
			w.carried(b)
			b.Run("compare", w.benchmarkCompare)
			b.Run("differ", w.benchmarkDiffer)
			b.Run("collect", w.benchmarkCollect)
			b.Run("send", w.benchmarkSend)
			b.Run("board", w.benchmarkBoard)
			b.Run("live", w.benchmarkLive)
			require.Contains(b, w.run(b, "compare"), "equal ")
		})
	}
}

// timed runs something until the benchmark is done, and reports the median and the
// longest of the times, and what the program used of a processor, by which runs on a
// machine that does other work can be compared too.
func (w *workshop) timed(b *testing.B, prepare, do func()) {
	var took []time.Duration
	w.worked = 0
	for b.Loop() {
		b.StopTimer()
		prepare()
		b.StartTimer()
		begun := time.Now()
		do()
		took = append(took, time.Since(begun))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Nanoseconds()), "median-ns")
	b.ReportMetric(float64(took[len(took)-1].Nanoseconds()), "longest-ns")
	b.ReportMetric(float64(w.worked.Nanoseconds())/float64(len(took)), "processor-ns")
}

func nothing() {}

func (w *workshop) benchmarkCompare(b *testing.B) {
	w.timed(b, nothing, func() { require.Contains(b, w.run(b, "compare"), "equal ") })
}

func (w *workshop) benchmarkDiffer(b *testing.B) {
	w.sends(b, w.news(1, w.there))
	w.timed(b, nothing, func() { require.Contains(b, w.run(b, "compare"), "differ    1 of ") })
	require.Contains(b, w.run(b, "collect"), "came in   1 entry\n")
}

func (w *workshop) benchmarkCollect(b *testing.B) {
	w.timed(b, func() { w.sends(b, w.news(100, w.there)) }, func() { require.Contains(b, w.run(b, "collect"), "came in   100 entries\n") })
}

func (w *workshop) benchmarkSend(b *testing.B) {
	w.timed(b, func() { w.logs(b, w.news(100, w.here)) }, func() { require.Contains(b, w.run(b, "send"), "sent      100 entries\n") })
	require.Contains(b, w.run(b, "collect"), "came in   0 entries\n")
}

func (w *workshop) benchmarkBoard(b *testing.B) {
	var p *pictures
	w.timed(b, func() {
		if p != nil {
			p.end(b)
		}
	}, func() {
		p = w.pictures(b)
		require.Contains(b, p.next(b), " pieces at ")
	})
	p.end(b)
	b.ReportMetric(float64(w.worked.Nanoseconds())/float64(b.N), "processor-ns") // with that of the last one
}

func (w *workshop) benchmarkLive(b *testing.B) {
	p := w.pictures(b)
	defer func() { p.end(b); require.Contains(b, w.run(b, "collect"), "came in ") }()
	shown, news := p.next(b), w.news(1, w.there)
	piece := news.Rows[0].Piece
	news.Rows[0] = about(w.there, piece, schedule.Started{Alloy: "AG925", Calliper: 0.05,
		Reading: schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: 8, Width: 8}}})
	w.sends(b, news)
	shown = p.next(b)
	said := []schedule.Body{schedule.CrackFiled{}, schedule.CrackSeen{}} // the second first
	turn := 0
	w.timed(b, func() { turn++ }, func() {
		w.sends(b, share.Batch{Rows: []schedule.Row{about(w.there, piece, said[turn%2])}})
		next := p.next(b)
		require.NotEqual(b, shown, next)
		shown = next
	})
}
