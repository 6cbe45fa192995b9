package split

import "testing"

func BenchmarkLearn100000(b *testing.B) {
	many := drawn(0.95, 10, 100_000)
	for b.Loop() {
		Prior(0.69).Learn(many).Limit(Risk)
	}
}

func BenchmarkLearnOneMore(b *testing.B) {
	k := Prior(0.69).Learn(drawn(0.95, 10, 100))
	one := []Interval{{0.6, false}}
	for b.Loop() {
		k.Learn(one)
	}
}

func BenchmarkLimit(b *testing.B) {
	k := Prior(0.69).Learn(drawn(0.95, 10, 100))
	for b.Loop() {
		k.Limit(Risk)
	}
}
