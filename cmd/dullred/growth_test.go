package main

import (
	"database/sql"
	"fmt"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
)

const (
	manyEntries = 1_000_000
	hands       = 5
)

// pieceEntries is what a spoon of a class leaves behind: a start, and passes
// with the advice that was shown.
const pieceEntries = 20

// spoon gives the entries of the nth spoon of a workshop.
func spoon(n int) []schedule.Entry {
	at := time.Date(2020, 1, 1, 18, 0, 0, 0, time.UTC).Add(time.Duration(n) * time.Hour)
	entry := func(body schedule.Body) schedule.Entry {
		at = at.Add(time.Minute)
		return schedule.Entry{ID: schedule.NewID(), At: at, Written: at, Bench: growthID(0, 0), Hand: growthID(1, n%hands),
			Piece: growthID(2, n), Version: 1, Body: body}
	}
	size := unit.Size{Shape: unit.Rectangular, Thick: 8, Width: 8}
	entries := []schedule.Entry{entry(schedule.Started{Alloy: "AG925", Reading: schedule.Reading{Size: size}, Cast: true, Calliper: 0.1})}
	for len(entries) < pieceEntries {
		size.Thick -= 0.1
		pass := entry(schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: schedule.Reading{Size: size}})
		shown := entry(schedule.Shown{After: pass.ID, Verdict: schedule.VerdictCarryOn, Zone: "body",
			Worked: 0.0123, Spent: 0.123, Limit: 0.5, Table: "1"})
		entries = append(entries, pass, shown)
	}
	return entries[:pieceEntries]
}

func growthID(class, n int) schedule.ID {
	return schedule.ID(fmt.Sprintf("00000000-0000-7000-8000-%04d%08d", class, n))
}

// grown makes a record of many entries, a piece after the other, and gives its path.
func grown(tb testing.TB, entries int) string {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "record.db")
	r, err := record.Open(path)
	require.NoError(tb, err)
	const atOnce = 1000 // pieces in a transaction
	for first := 0; first < entries/pieceEntries; first += atOnce {
		var labels []record.Label
		var rows []record.Row
		for n := first; n < min(first+atOnce, entries/pieceEntries); n++ {
			labels = append(labels, record.Label{ID: string(growthID(2, n)), Class: record.PieceClass, Text: fmt.Sprint("spoon ", n)})
			for _, e := range spoon(n) {
				row, err := schedule.Encode(e)
				require.NoError(tb, err)
				rows = append(rows, record.Row(row))
			}
		}
		require.NoError(tb, r.AppendNamed(labels, rows...))
	}
	require.NoError(tb, r.Close())
	return path
}

// BenchmarkReplay reads a record of a million entries in order and decodes it,
// as dullred log does, beside a bare scan of the same columns by the same driver.
func BenchmarkReplay(b *testing.B) {
	path := grown(b, manyEntries)
	r, err := record.Open(path)
	require.NoError(b, err)
	defer r.Close()
	db, err := sql.Open("sqlite", path)
	require.NoError(b, err)
	defer db.Close()
	var replay, scan []time.Duration
	for b.Loop() {
		replay = append(replay, took(func() { replayAll(b, r) }))
		scan = append(scan, took(func() { scanAll(b, db) }))
	}
	b.ReportMetric(median(replay).Seconds()/median(scan).Seconds(), "x-scan")
	b.ReportMetric(median(replay).Seconds(), "s/replay")
	b.ReportMetric(median(scan).Seconds(), "s/scan")
	b.ReportMetric(0, "ns/op")
}

func replayAll(tb testing.TB, r *record.Record) {
	entries, err := (&bench{rec: r}).replay()
	require.NoError(tb, err)
	require.Len(tb, entries, manyEntries)
	for i := range entries {
		if u, bad := entries[i].Body.(schedule.Unknown); bad {
			tb.Fatal(u.Why)
		}
	}
}

func scanAll(tb testing.TB, db *sql.DB) {
	rows, err := db.Query(`SELECT id, at, written, bench, hand, piece, zones, kind, version, process, ifnull(count, 0), shape,
		ifnull(thick, 0.0), ifnull(width, 0.0), ifnull(diameter, 0.0), ifnull(ring, 0.0), ifnull(length, 0.0), ifnull(temp, 0.0), body FROM entry`)
	require.NoError(tb, err)
	defer rows.Close()
	n := 0
	for rows.Next() {
		var w record.Row
		require.NoError(tb, rows.Scan(&w.ID, &w.At, &w.Written, &w.Bench, &w.Hand, &w.Piece, &w.Zones, &w.Kind, &w.Version, &w.Process,
			&w.Count, &w.Shape, &w.Thick, &w.Width, &w.Diameter, &w.Ring, &w.Length, &w.Temp, &w.Body))
		n++
	}
	require.NoError(tb, rows.Err())
	require.Equal(tb, manyEntries, n)
}

func took(f func()) time.Duration {
	runtime.GC() // each begins with an empty heap
	start := time.Now()
	f()
	return time.Since(start)
}

// BenchmarkAdviseAmong is the time from starting the program to its advice on
// one piece in a record of a million entries, beside a record of a hundred, and
// beside one in which every hand has just filled the window of its latest
// entries: that the window fills is a cost of the advice, not of the growth.
func BenchmarkAdviseAmong(b *testing.B) {
	sizes := []int{manyEntries, handWindow * hands, 100}
	programs := make([]program, len(sizes))
	times := make([][]time.Duration, len(sizes))
	programs[0] = newProgram(b)
	for i, size := range sizes {
		programs[i] = program{path: programs[0].path, record: grown(b, size)}
	}
	for b.Loop() {
		for i, p := range programs {
			times[i] = append(times[i], timed(b, p.command("advise", "spoon 3")))
		}
	}
	million, window, hundred := median(times[0]), median(times[1]), median(times[2])
	b.ReportMetric(million.Seconds()/hundred.Seconds(), "x-hundred")
	b.ReportMetric(million.Seconds()/window.Seconds(), "x-window")
	b.ReportMetric(million.Seconds()*1000, "ms/advise")
	b.ReportMetric(0, "ns/op")
}
