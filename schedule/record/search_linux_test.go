package record

import (
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// manyEntries is ten years of a busy shop.
const manyEntries = 1_000_000

// page is as many entries as a person reads at once.
const page = 20

// says looks for a text as it is.
func says(text string, pieces ...string) *Said {
	return &Said{Part: text, Pieces: pieces, In: func(_, body string) bool { return strings.Contains(strings.ToLower(body), text) }}
}

// piecesIn are n pieces, one in every so many.
func piecesIn(n, every int) (ids []string) {
	for i := range n {
		ids = append(ids, shopID(2, 1+i*every))
	}
	return ids
}

// year is the twelve months from n years after the first entry.
func year(n int64) Span {
	return Span{From: shopFirst + n*365*shopDay, Until: shopFirst + (n+1)*365*shopDay}
}

// BenchmarkSearch looks through a million entries: for the newest twenty that were
// looked for, and for how many there are. The cases that count very many, or read them
// all, are there to say what that costs.
func BenchmarkSearch(b *testing.B) {
	r, err := Open(busy(b, b.TempDir(), manyEntries))
	require.NoError(b, err)
	defer r.Close()
	month := Span{From: year(4).From, Until: year(4).From + 31*shopDay}
	cases := []struct {
		name string
		q    Search
	}{
		{"piece", Search{Pieces: piecesIn(1, 1)}},
		{"alloy of 22 pieces", Search{Pieces: piecesIn(22, 500)}},
		{"alloy of 2000 pieces", Search{Pieces: piecesIn(2000, 5)}},
		{"alloy of 5000 pieces", Search{Pieces: piecesIn(5000, 2)}},
		{"hand", Search{Hand: shopID(1, 3)}},
		{"month", Search{Span: month}},
		{"month of a hand", Search{Span: month, Hand: shopID(1, 27)}},
		{"rare kind", Search{Kinds: []string{"joint"}}},
		{"rare kind of a hand", Search{Kinds: []string{"joint"}, Hand: shopID(1, 3)}},
		{"frequent kind", Search{Kinds: []string{"heat begun"}}},
		{"frequent kind in a month", Search{Kinds: []string{"heat begun"}, Span: month}},
		{"kind never logged", Search{Kinds: []string{"heat put off"}}},
		{"text of few", Search{Said: says("vice")}},
		{"text of none", Search{Said: says("no such words")}},
		{"text of few, and names", Search{Said: says("vice", piecesIn(30, 300)...)}},
		{"text of a year", Search{Said: says("vice"), Span: year(3)}},
		{"text of a kind and hand", Search{Said: says("melt 77"), Kinds: []string{"piece started"}, Hand: shopID(1, 13)}},
		{"text of many", Search{Said: says("scale")}},
	}
	for _, c := range cases {
		b.Run("first of "+c.name, func(b *testing.B) { c.q.Newest = true; benchPage(b, r, c.q) })
		b.Run("count of "+c.name, func(b *testing.B) { benchFound(b, r, c.q) })
	}
	b.Run("all with a text of many", func(b *testing.B) { benchAll(b, r, Search{Said: says("scale")}) })
	b.Run("all of a month", func(b *testing.B) { benchAll(b, r, Search{Span: month}) })
	b.Run("all of a day", func(b *testing.B) { benchAll(b, r, Search{Span: Span{From: month.From, Until: month.From + shopDay}}) })
	b.Run("pieces of a day", func(b *testing.B) {
		defer reportCPU(b)()
		for b.Loop() {
			_, err := r.Between(Span{From: month.From, Until: month.From + shopDay})
			require.NoError(b, err)
		}
	})
	b.Run("bodies of piece started", func(b *testing.B) {
		defer reportCPU(b)()
		for b.Loop() {
			for _, err := range r.Bodies("piece started") {
				require.NoError(b, err)
			}
		}
	})
	b.Run("outlines of work and heats", func(b *testing.B) {
		defer reportCPU(b)()
		for b.Loop() {
			for _, err := range r.Outlines("piece started", "pass", "heat begun", "heat reached", "heat out", "quenched", "proved soft", "weighed", "finished") {
				require.NoError(b, err)
			}
		}
	})
}

// benchPage reads no more than a page.
func benchPage(b *testing.B, r *Record, q Search) {
	defer reportCPU(b)()
	for b.Loop() {
		n := 0
		for _, err := range r.Search(q) {
			require.NoError(b, err)
			if n++; n == page {
				break
			}
		}
	}
}

// reportCPU adds what the processors did, which other programs on the machine change
// less than the time that went by.
func reportCPU(b *testing.B) func() {
	before := used()
	return func() { b.ReportMetric(float64((used()-before).Microseconds())/1000/float64(b.N), "cpu-ms/op") }
}

// used is the processor time of this program.
func used() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func benchFound(b *testing.B, r *Record, q Search) {
	n := 0
	defer reportCPU(b)()
	for b.Loop() {
		var err error
		n, err = r.Found(q)
		require.NoError(b, err)
	}
	b.ReportMetric(float64(n), "found")
}

func benchAll(b *testing.B, r *Record, q Search) {
	n := 0
	defer reportCPU(b)()
	for b.Loop() {
		n = 0
		for _, err := range r.Search(q) {
			require.NoError(b, err)
			n++
		}
	}
	b.ReportMetric(float64(n), "found")
}
