package desktop

import (
	"context"
	"testing"
	"time"
)

// How long the screen is held up by an alert, with a desktop that answers and
// with one that does not.
func BenchmarkTell(b *testing.B) {
	cases := []struct {
		name string
		call func(context.Context) error
	}{
		{"fast", fast},
		{"hangs", func(ctx context.Context) error { <-ctx.Done(); return nil }},
	}
	for _, c := range cases {
		b.Run(c.name, func(b *testing.B) {
			channel := Open(Options{Patience: time.Hour, send: func(ctx context.Context, _ Notice) error { return c.call(ctx) }})
			defer channel.Close()
			n := Notice{Title: "piece 3: soak is over", Body: "quench it", Urgent: true}
			b.ReportAllocs()
			for b.Loop() {
				channel.Tell(n)
			}
		})
	}
}
