package coldwork

import "testing"

func BenchmarkLeft(b *testing.B) {
	h := taught(lengthen(3, 0.36), lengthen(2, 0.2), lengthen(4, 0.5))
	for b.Loop() {
		h.Left(Estimate{0.33, 0.03}, 0.6903)
	}
}

func BenchmarkReckon(b *testing.B) {
	sum := hammered()
	for b.Loop() {
		if _, err := sum.Reckon(); err != nil {
			b.Fatal(err)
		}
	}
}
