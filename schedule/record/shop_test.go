package record

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// shop invents the record of a busy workshop: twelve hands at a time, each with a piece
// under way, and every second year others in their place; ten years of some four
// hundred entries a day when it is to hold a million.
type shop struct {
	*rand.Rand
	at    int64  // µs
	last  string // id of the entry before
	piece [12]int
	left  [12][]string // kinds that the piece of each hand still gets
	begun int          // pieces
	rows  []Row
}

const (
	shopDay    = 24 * 3600 * 1_000_000
	shopFirst  = 1_500_000_000_000_000 // µs; in July 2017
	shopPace   = 90_000_000            // between two entries at the bench, µs
	shopPerDay = 400
)

// life is the kinds of entries of one piece in their order: some eighty.
func (s *shop) life() (kinds []string) {
	kinds = append(kinds, "piece started", "weighed")
	for range 5 {
		for range 5 {
			kinds = append(kinds, "pass", "advice shown")
		}
		kinds = append(kinds, "heat begun", "heat reached", "heat out", "quenched", "in the pickle", "out of the pickle", "proved soft")
	}
	for _, odd := range []string{"note", "note", "photo", "crack seen", "joint", "measured", "void", "alert raised", "sign"} {
		if s.IntN(3) == 0 {
			kinds = append(kinds, odd)
		}
	}
	return append(kinds, "weighed", "finished")
}

// body is what stands in an entry of a kind.
func (s *shop) body(kind string) string {
	switch kind {
	case "piece started":
		alloy := []string{"AG925", "AG925", "CU-ETP", "BRASS-70", "AG999"}[s.IntN(5)]
		if s.begun%500 == 0 {
			alloy = "AU-18K"
		}
		return fmt.Sprintf(`{"alloy":%q,"cast":true,"calliper":0.1,"mark":"%d x","stock":"melt %d"}`, alloy, s.begun%40, s.begun/30)
	case "pass":
		if s.IntN(10) == 0 {
			return fmt.Sprintf(`{"tool":"raising hammer %d"}`, s.IntN(5))
		}
	case "note":
		words := []string{"scale", "came", "off", "in", "flakes", "the", "edge", "held", "under", "Schlägel", "bent", "rim", "sounds", "dull"}
		text := fmt.Sprintf("%d", s.begun)
		for range 4 + s.IntN(12) {
			text += " " + words[s.IntN(len(words))]
		}
		if s.begun%1000 == 0 {
			text += " slipped in the vice"
		}
		return fmt.Sprintf(`{"text":%q}`, text)
	case "advice shown":
		return fmt.Sprintf(`{"after":%q,"verdict":"carry on","zone":"whole","worked":0.18,"spent":0.26,"limit":0.69,"table":"1"}`, s.last)
	case "void":
		return fmt.Sprintf(`{"target":%q}`, s.last)
	case "photo":
		return fmt.Sprintf(`{"ref":"%d"}`, s.begun)
	case "joint":
		return `{"joint":"handle","solder":"hard","solidus":745}`
	case "weighed":
		return fmt.Sprintf(`{"grams":%d}`, 40+s.IntN(60))
	}
	return ""
}

// entry is one more; one in fifty is typed late.
func (s *shop) entry() Row {
	seat := s.IntN(12)
	if len(s.left[seat]) == 0 {
		s.begun++
		s.piece[seat], s.left[seat] = s.begun, s.life()
	}
	kind := s.left[seat][0]
	s.left[seat] = s.left[seat][1:]
	s.at += shopPace
	if s.IntN(shopPerDay) == 0 {
		s.at += shopDay - shopPerDay*shopPace
	}
	row := Row{At: s.at, Written: s.at, Bench: shopID(0, 0), Hand: shopID(1, seat+12*int((s.at-shopFirst)/(2*365*shopDay))),
		Piece: shopID(2, s.piece[seat]), Kind: kind, Version: 1, Body: s.body(kind)}
	if s.IntN(50) == 0 {
		row.At -= int64(s.IntN(3600)) * 1_000_000
	}
	if kind == "pass" {
		row.Process, row.Count, row.Shape, row.Thick, row.Width = "lengthen", 1, "rectangular", 7.2, 7.8
	}
	row.ID = s.id()
	s.last = row.ID
	s.rows = append(s.rows, row)
	return row
}

// id is a UUIDv7 of the moment.
func (s *shop) id() string {
	ms := s.at / 1000
	return fmt.Sprintf("%08x-%04x-7%03x-8%03x-%012x", ms>>16, ms&0xffff, s.IntN(1<<12), s.IntN(1<<12), s.Int64N(1<<48))
}

func shopID(class, n int) string { return fmt.Sprintf("00000000-0000-7000-8000-%04d%08d", class, n) }

// busy makes the record of a workshop and gives its path.
func busy(tb testing.TB, folder string, entries int) string {
	tb.Helper()
	path := filepath.Join(folder, "record.db")
	if _, err := os.Stat(path); err == nil {
		return path
	}
	r, err := Open(path)
	require.NoError(tb, err)
	s := &shop{Rand: rand.New(rand.NewPCG(1, 2)), at: shopFirst}
	for done := 0; done < entries; {
		s.rows = s.rows[:0]
		var labels []Label
		for before := s.begun; len(s.rows) < min(50_000, entries-done); {
			if s.entry(); s.begun > before {
				before = s.begun
				labels = append(labels, Label{ID: shopID(2, s.begun), Class: PieceClass, Text: fmt.Sprint("bowl ", s.begun)})
			}
		}
		require.NoError(tb, r.AppendNamed(labels, s.rows...))
		done += len(s.rows)
	}
	require.NoError(tb, r.Close())
	return path
}
