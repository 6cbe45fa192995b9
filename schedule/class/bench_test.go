package class_test

import (
	"testing"

	"dullred/alloys/unit"
	"dullred/schedule/class"
	"dullred/schedule/coldwork"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

// BenchmarkLesson counts a lesson of twelve hands with a piece of forty courses
// and two heats each, the advice among them.
func BenchmarkLesson(b *testing.B) {
	shop := class.Shop{Place: quay}
	for n := range 12 {
		s := piece(n+1, rod())
		for i := range 40 {
			s.by(idOf(3, n), schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square(unit.Millimetre(8 - 0.08*float64(i)))}, schedule.Shown{})
			if i%20 == 19 {
				s.heated(idOf(3, n)).by(idOf(3, n), schedule.Soft{})
			}
		}
		shop.Pieces = append(shop.Pieces, s.entries)
	}
	for b.Loop() {
		lessons := shop.Lessons()
		require.Equal(b, 480, lessons[0].Total().Courses)
	}
}
