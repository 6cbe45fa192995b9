package trial

import "testing"

func BenchmarkTrial4000(b *testing.B)  { benchmark(b, 4000) }
func BenchmarkTrial20000(b *testing.B) { benchmark(b, 20_000) }

func benchmark(b *testing.B, pieces int) {
	s := Usual()
	s.Pieces = pieces
	for b.Loop() {
		Run(s)
	}
}
