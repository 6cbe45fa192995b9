package probe_test

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"dullred/schedule/probe"
)

// A file of readings, one each second, is followed to its end and recorded.
func ExampleFollow() {
	begun := time.Date(2024, 3, 5, 18, 10, 0, 0, time.UTC)
	at := begun.Add(-time.Second)
	clock := func() time.Time { at = at.Add(time.Second); return at }
	open := func() (io.ReadCloser, error) {
		return probe.Once(io.NopCloser(strings.NewReader("480\n490\n500\n510\n520\n530\n"))), nil
	}
	recorder := probe.NewRecorder(begun)
	for e := range probe.Follow(context.Background(), open, clock) {
		if r, ok := e.(probe.Reading); ok {
			recorder.Add(r)
		}
	}
	trace := recorder.Trace()
	highest, _ := trace.Max()
	fmt.Println(len(trace.Points()), "points,", highest.Temp, "at", highest.At, "- above 500 °C for", trace.Above(500))
	fmt.Println(trace.Encode())
	// Output:
	// 2 points, 530 °C at 5s - above 500 °C for 3s
	// AQGAS2ToBw
}
