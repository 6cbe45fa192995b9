package sheet_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

// hundred is a piece of a hundred entries.
func hundred() *story {
	s := piece(rod())
	for len(s.entries) < 100 {
		s.by(kw, to(7), to(6.5), schedule.Begun{}, schedule.Reached{Temp: 640}, schedule.Out{}, schedule.Quenched{}, schedule.Soft{},
			schedule.Filed{Reading: square(8)}, schedule.Note{Text: "n"})
	}
	s.entries = s.entries[:100]
	return s
}

// BenchmarkPDF prints a sheet of a hundred entries.
func BenchmarkPDF(b *testing.B) {
	made := hundred().sheet()
	for b.Loop() {
		_, err := made.PDF()
		require.NoError(b, err)
	}
}
