package record

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// passes gives the entries of a piece under the hammer as a bench logs them: a course a
// minute, each with the size it led to.
func passes() func() Row {
	at := time.UnixMicro(1_750_000_000_000_000)
	return func() Row {
		at = at.Add(time.Minute)
		row := sample()
		row.At, row.Written = at.UnixMicro(), at.UnixMicro()+56
		row.Kind, row.Process, row.Zones, row.Body = "pass", "lengthen", "", ""
		return row
	}
}

func BenchmarkAppend(b *testing.B) {
	r, next := openNew(b), passes()
	for b.Loop() {
		require.NoError(b, r.Append(next()))
	}
}

// BenchmarkAppendAgainstFdatasync compares the append of a pass with the least a durable
// store can do: write 200 bytes at the end of a file and sync it. Both run in
// the same folder in turns of fifty, so that a slow spell of the disk meets both.
func BenchmarkAppendAgainstFdatasync(b *testing.B) {
	const turn = 50
	r, next := openNew(b), passes()
	bare, err := os.Create(filepath.Join(filepath.Dir(r.Path()), "bare"))
	require.NoError(b, err)
	defer bare.Close()
	block := make([]byte, 200)
	var appends, syncs []time.Duration
	for b.Loop() {
		for range turn {
			row := next()
			appends = append(appends, timed(func() error { return r.Append(row) }))
		}
		for range turn {
			syncs = append(syncs, timed(func() error {
				_, err := bare.Write(block)
				return errors.Join(err, syscall.Fdatasync(int(bare.Fd())))
			}))
		}
	}
	b.ReportMetric(float64(median(appends))/float64(median(syncs)), "x-fdatasync")
	b.ReportMetric(float64(median(appends).Microseconds()), "µs/append")
	b.ReportMetric(float64(median(syncs).Microseconds()), "µs/fdatasync")
	b.ReportMetric(0, "ns/op")
}

func timed(f func() error) time.Duration {
	start := time.Now()
	err := f()
	took := time.Since(start)
	if err != nil {
		panic(err)
	}
	return took
}

func median(d []time.Duration) time.Duration {
	slices.Sort(d)
	return d[len(d)/2]
}

// BenchmarkPiece reads one piece of 100 entries out of a record of 50,000.
func BenchmarkPiece(b *testing.B) {
	r := openNew(b)
	fill(b, r, 500, 100)
	for b.Loop() {
		rows, err := r.Piece(pieceID(250))
		require.NoError(b, err)
		require.Len(b, rows, 100)
	}
}

// BenchmarkFind looks for the tail of an id in a record of 50,000, which reads every id.
func BenchmarkFind(b *testing.B) {
	r := openNew(b)
	fill(b, r, 500, 100)
	row := sample()
	require.NoError(b, r.Append(row))
	for b.Loop() {
		rows, err := r.Find(row.ID[26:], 2)
		require.NoError(b, err)
		require.Len(b, rows, 1)
	}
}

// BenchmarkOpen opens and closes a record.
func BenchmarkOpen(b *testing.B) {
	path := closed(b, samples(100)...)
	for b.Loop() {
		r, err := Open(path)
		require.NoError(b, err)
		require.NoError(b, r.Close())
	}
}
