package main

import (
	"database/sql"
	"fmt"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/years"
	"dullred/schedule"
	"dullred/schedule/record"
)

const manyEntries = 1_000_000

func growthID(class, n int) schedule.ID {
	return schedule.ID(fmt.Sprintf("00000000-0000-7000-8000-%04d%08d", class, n))
}

// grown makes the record of a workshop of many years, a piece after the other, and gives
// its path. Its hands are called s1 and so on.
func grown(tb testing.TB, w years.Workshop) string {
	tb.Helper()
	const atOnce = 50_000 // rows in a transaction
	path := filepath.Join(tb.TempDir(), "record.db")
	r, err := record.Open(path)
	require.NoError(tb, err)
	var labels []record.Label
	var rows []record.Row
	for n := range w.Benches {
		labels = append(labels, record.Label{ID: string(w.Hand(n)), Class: record.HandClass, Text: fmt.Sprint("s", n+1)},
			record.Label{ID: string(w.Bench(n)), Class: record.BenchClass, Text: fmt.Sprint("bench ", n+1)})
	}
	for p := range w.Pieces() {
		labels = append(labels, record.Label{ID: string(p.ID), Class: record.PieceClass, Text: p.Name})
		for _, e := range p.Entries {
			rows = append(rows, encoded(tb, e))
		}
		if len(rows) >= atOnce {
			require.NoError(tb, r.AppendNamed(labels, rows...))
			labels, rows = nil, nil
		}
	}
	require.NoError(tb, r.AppendNamed(labels, rows...))
	require.NoError(tb, r.Close())
	return path
}

// BenchmarkReplay reads a record of a million entries in order and decodes it,
// as dullred log does, beside a bare scan of the same columns by the same driver.
func BenchmarkReplay(b *testing.B) {
	school := years.SchoolOf(manyEntries)
	path := grown(b, school)
	r, err := record.Open(path)
	require.NoError(b, err)
	defer r.Close()
	db, err := sql.Open("sqlite", path)
	require.NoError(b, err)
	defer db.Close()
	var replay, scan []time.Duration
	for b.Loop() {
		replay = append(replay, took(func() { replayAll(b, r, school.Entries()) }))
		scan = append(scan, took(func() { scanAll(b, db, school.Entries()) }))
	}
	b.ReportMetric(median(replay).Seconds()/median(scan).Seconds(), "x-scan")
	b.ReportMetric(median(replay).Seconds(), "s/replay")
	b.ReportMetric(median(scan).Seconds(), "s/scan")
	b.ReportMetric(0, "ns/op")
}

func replayAll(tb testing.TB, r *record.Record, many int) {
	entries, err := (&bench{rec: r}).replay()
	require.NoError(tb, err)
	require.Len(tb, entries, many)
	for i := range entries {
		if u, bad := entries[i].Body.(schedule.Unknown); bad {
			tb.Fatal(u.Why)
		}
	}
}

func scanAll(tb testing.TB, db *sql.DB, many int) {
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
	require.Equal(tb, many, n)
}

func took(f func()) time.Duration {
	runtime.GC() // each begins with an empty heap
	start := time.Now()
	f()
	return time.Since(start)
}
