package probe

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
)

var begun = time.Date(2024, 3, 5, 18, 0, 0, 0, time.UTC)

func reading(at time.Duration, temp unit.Celsius) Reading { return Reading{begun.Add(at), temp} }

// traced is the trace of readings, and those that were taken.
func traced(readings []Reading) (Trace, []Reading) {
	r := NewRecorder(begun)
	var taken []Reading
	for _, x := range readings {
		if r.Add(x) {
			taken = append(taken, x)
		}
	}
	return r.Trace(), taken
}

// torch is a piece that is heated in a flame, held and cooled: 20 °C towards
// 900 °C with a time constant of 60 s until it is at 650 °C, held there for two
// minutes by a hand, then air. All of it is invented; the noise is that of a
// device that reads quarters of a kelvin.
func torch(every time.Duration, quarters float64) (readings []Reading) {
	noise := rand.New(rand.NewPCG(1, 2))
	for at := time.Duration(0); at < 10*time.Minute; at += every {
		s := at.Seconds()
		temp := 900 - 880*math.Exp(-s/60)
		if s > 75.5 {
			temp = 650 + 8*math.Sin((s-75.5)/9)
		}
		if s > 195.5 {
			temp = 20 + 630*math.Exp(-(s-195.5)/150)
		}
		temp = math.Round(4*temp+quarters*noise.NormFloat64()) / 4
		readings = append(readings, reading(at, unit.Celsius(temp)))
	}
	return readings
}

func TestTraceIsSmall(t *testing.T) {
	cases := []struct {
		name     string
		every    time.Duration
		quarters float64
		most     float64 // bytes of text per minute
		reason   string
	}{
		{"one each second", time.Second, 0, 25, "no noise but the rounding"},
		{"one each second, noisy", time.Second, 1, 32, "a quarter of a kelvin of noise"},
		{"ten each second, noisy", 100 * time.Millisecond, 1, 95, "ten times the readings take three times the text"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			trace, taken := traced(torch(c.every, c.quarters))
			require.Len(t, taken, int(10*time.Minute/c.every))
			perMinute := float64(len(trace.Encode())) / 10
			t.Logf("%d readings, %d kept, %.1f bytes of text per minute, largest error %.3f K",
				len(taken), len(trace.Points()), perMinute, worst(t, trace, taken))
			require.Less(t, perMinute, c.most, c.reason)
			require.Greater(t, perMinute, 1.0, "there is a curve")
			require.LessOrEqual(t, worst(t, trace, taken), float64(Tolerance))
		})
	}
}

// worst is how far the reading that is furthest from the curve is, in K.
func worst(t require.TestingT, trace Trace, taken []Reading) (most float64) {
	for _, r := range taken {
		got, known := trace.At(r.At.Sub(begun).Round(Tick))
		require.True(t, known, "%v is not known", r)
		most = max(most, math.Abs(float64(got-r.Temp)))
	}
	return most
}

// curves are readings as a probe may give them, in stretches that are steady, go
// straight, wander or jump, with pauses and moments that go back.
var curves = rapid.Custom(func(t *rapid.T) (readings []Reading) {
	at, temp := time.Duration(0), rapid.Float64Range(-50, 1800).Draw(t, "first")
	for range rapid.IntRange(0, 8).Draw(t, "stretches") {
		step := rapid.Int64Range(1e7, 40e9).Draw(t, "step")
		slope := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-20, 20)).Draw(t, "slope")
		wander := rapid.SampledFrom([]float64{0, 0.25, 2, 500}).Draw(t, "wander")
		for range rapid.IntRange(1, 40).Draw(t, "readings") {
			temp = min(max(temp+slope+wander*rapid.Float64Range(-1, 1).Draw(t, "by"), -60), 1810)
			readings = append(readings, reading(at, unit.Celsius(temp)))
			at += time.Duration(step)
		}
		at += time.Duration(rapid.Int64Range(-2e9, 60e9).Draw(t, "pause"))
	}
	return readings
})

func TestTraceIsWithinTheTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trace, taken := traced(curves.Draw(t, "curve"))
		require.LessOrEqual(t, worst(t, trace, taken), float64(Tolerance))
	})
}

func TestTraceRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trace, _ := traced(curves.Draw(t, "curve"))
		back, err := Decode(trace.Encode())
		require.NoError(t, err)
		require.Equal(t, trace.Points(), back.Points())
		require.NotContains(t, trace.Encode(), "=")
	})
}

// A snapshot is the beginning of what comes later, its last point apart.
func TestTraceDoesNotChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		readings, r := curves.Draw(t, "curve"), NewRecorder(begun)
		for _, x := range readings {
			r.Add(x)
		}
		early, text := r.Trace(), r.Trace().Encode()
		for _, x := range torch(time.Second, 1)[:100] {
			x.At = x.At.Add(2 * time.Hour)
			r.Add(x)
		}
		require.Equal(t, text, early.Encode())
		require.LessOrEqual(t, worst(t, r.Trace(), func() []Reading { _, taken := traced(readings); return taken }()), float64(Tolerance))
	})
}

func TestMaxAboveAndSpansAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trace, taken := traced(curves.Draw(t, "curve"))
		highest, known := trace.Max()
		require.Equal(t, len(taken) > 0, known)
		if !known {
			require.Empty(t, trace.Spans(time.Second))
			return
		}
		for _, r := range taken {
			require.LessOrEqual(t, float64(r.Temp-highest.Temp), float64(Tolerance))
		}
		require.Zero(t, trace.Above(highest.Temp))
		limit := unit.Celsius(rapid.Float64Range(-50, 1800).Draw(t, "limit"))
		require.LessOrEqual(t, trace.Above(limit), trace.Length())
		require.LessOrEqual(t, trace.Above(limit+1), trace.Above(limit))
		spans := trace.Spans(time.Duration(rapid.Int64Range(0, 1e11).Draw(t, "step")))
		top, last := spans[0].High, time.Duration(-1)
		for _, s := range spans {
			require.Greater(t, s.From, last, "in order, each once")
			require.True(t, s.From <= s.To && s.To <= trace.Length())
			require.LessOrEqual(t, s.Low, s.High)
			top, last = max(top, s.High), s.From
		}
		require.InDelta(t, float64(highest.Temp), float64(top), 1e-9)
	})
}

// A curve that is worked by hand: 0 to 1000 °C in 100 s, 50 s at it, a gap, and
// 600 falling to 400 °C in 20 s.
func byHand() Trace {
	r := NewRecorder(begun)
	for s := 0; s <= 100; s++ {
		r.Add(reading(time.Duration(s)*time.Second, unit.Celsius(10*s)))
	}
	for s := 110; s <= 150; s += 10 {
		r.Add(reading(time.Duration(s)*time.Second, 1000))
	}
	for s := 0; s <= 20; s++ {
		r.Add(reading(time.Duration(200+s)*time.Second, unit.Celsius(600-10*s)))
	}
	return r.Trace()
}

func TestTraceByHand(t *testing.T) {
	const s = time.Second
	trace := byHand()
	require.Equal(t, []Point{{0, 0, true}, {100 * s, 1000, false}, {150 * s, 1000, false}, {200 * s, 600, true}, {220 * s, 400, false}}, trace.Points())
	require.Equal(t, 220*s, trace.Length())
	require.Equal(t, 50*s+50*s+10*s, trace.Above(500), "half of the rise, the hold, half of the fall; not the gap")
	require.Equal(t, 220*s-50*s, trace.Above(-10), "all that is known")
	highest, known := trace.Max()
	require.True(t, known)
	require.Equal(t, Point{100 * s, 1000, false}, highest)
	cases := []struct {
		at     time.Duration
		want   unit.Celsius
		known  bool
		reason string
	}{
		{-s, 0, false, "before it"},
		{0, 0, true, "the first"},
		{25 * s, 250, true, "on the rise"},
		{25*s + 37*time.Millisecond, 250.37, true, "between ticks"},
		{150 * s, 1000, true, "the last before the gap"},
		{170 * s, 0, false, "in the gap"},
		{200 * s, 600, true, "the first after it"},
		{220 * s, 400, true, "the last"},
		{221 * s, 0, false, "after it"},
	}
	for _, c := range cases {
		got, known := trace.At(c.at)
		require.Equal(t, c.known, known, c.reason)
		require.InDelta(t, float64(c.want), float64(got), 1e-9, c.reason)
	}
	require.Equal(t, []Span{{0, 60 * s, 0, 600}, {60 * s, 120 * s, 600, 1000}, {120 * s, 180 * s, 1000, 1000}, {180 * s, 220 * s, 400, 600}}, trace.Spans(60*s))
	require.Equal(t, []Span{{0, 75 * s, 0, 750}, {75 * s, 150 * s, 750, 1000}, {150 * s, 220 * s, 400, 1000}}, trace.Spans(75*s), "what of a stretch is known")
	require.Len(t, trace.Spans(10*s), 15+1+3, "the stretches from 160 to 190 s are unknown, the ends 150 and 220 s begin one each")
}

func TestRecorderRefuses(t *testing.T) {
	r := NewRecorder(begun)
	require.True(t, r.Add(reading(time.Second, 650)))
	for _, c := range []struct {
		at     time.Duration
		temp   unit.Celsius
		reason string
	}{
		{-time.Second, 650, "before the heat"},
		{0, 650, "before the last"},
		{time.Second + 20*time.Millisecond, 651, "in the same tick"},
		{MaxLength + time.Second, 650, "too late"},
		{2 * time.Second, MaxTemp + 1, "too hot"},
		{2 * time.Second, unit.Celsius(math.NaN()), "no number"},
	} {
		require.False(t, r.Add(reading(c.at, c.temp)), c.reason)
	}
	require.Len(t, r.Trace().Points(), 1)
}

func TestDecodeRefuses(t *testing.T) {
	good := byHand().Encode()
	cases := []struct{ name, text, says, reason string }{
		{"line end", good + "\n", "in another way", "base64 would leave it out"},
		{"line end alone", "\n", "form", "the same, with nothing left"},
		{"cut", good[:len(good)-3], "the temperature of point 5", "the last point is half"},
		{"padded", good + "=", "illegal base64", "written without"},
		{"other alphabet", "AQEA+/", "illegal base64", "of base64 for mail"},
		{"no points", "AQ", "in another way", "none is the empty text"},
		{"form", "Ag", "form", "a later form"},
		{"joined to nothing", "AQAA", "point 1 is joined to nothing", "the first point has nothing before it"},
		{"order", "AQEAAAA", "point 2 is not in the order of time", "a second point at the same moment"},
		{"long varint", "AYEAAA", "in another way", "1 in two bytes"},
		{"too hot", "AQHAmgw", "point 1 is no temperature", "10000 °C"},
		{"days", "AQEA_____wEA", "the moment of point 2", "after MaxLength"},
		{"long", strings.Repeat("A", MaxText+1), "longer than", "more than any trace"},
		{"bits", "AQEAAgF", "in another way", "bits behind the last byte"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			trace, err := Decode(c.text)
			require.ErrorIs(t, err, ErrTrace, c.reason)
			require.ErrorContains(t, err, c.says, c.reason)
			require.Empty(t, trace.Points())
		})
	}
}

// The longest text there can be is read back: a reading in every tick of a day,
// each far from the one before.
func TestTheLongestTraceIsRead(t *testing.T) {
	r := NewRecorder(begun)
	for i := range int(MaxLength/Tick) + 1 {
		r.Add(reading(time.Duration(i)*Tick, []unit.Celsius{MinTemp, MaxTemp}[i%2]))
	}
	text := r.Trace().Encode()
	require.LessOrEqual(t, len(text), MaxText)
	back, err := Decode(text)
	require.NoError(t, err)
	require.Len(t, back.Points(), int(MaxLength/Tick)+1)
}

// FuzzTrace: no text panics, and what is read is written the same and says
// nothing impossible.
func FuzzTrace(f *testing.F) {
	for _, s := range []string{"", byHand().Encode(), "AQ", "AQEA", "AQHAmgw", "AYEAAA", "\n", "AQEAAAA", strings.Repeat("_", 40)} {
		f.Add(s, int64(time.Second))
	}
	f.Fuzz(func(t *testing.T, text string, step int64) {
		trace, err := Decode(text)
		if err != nil {
			require.ErrorIs(t, err, ErrTrace)
			require.Empty(t, trace.Points())
			return
		}
		require.Equal(t, text, trace.Encode())
		for _, p := range trace.Points() {
			got, known := trace.At(p.At)
			require.True(t, known && got == p.Temp && got >= MinTemp && got <= MaxTemp && p.At <= MaxLength)
		}
		require.LessOrEqual(t, trace.Above(500), trace.Length())
		for _, s := range trace.Spans(max(time.Duration(step), time.Second)) {
			require.True(t, s.Low >= MinTemp && s.High <= MaxTemp && s.Low <= s.High)
		}
	})
}

func BenchmarkAdd(b *testing.B) {
	readings := torch(100*time.Millisecond, 1)
	b.ReportAllocs()
	for b.Loop() {
		trace, _ := traced(readings)
		b.ReportMetric(float64(len(trace.Encode()))/10, "bytes/min")
	}
	b.ReportMetric(float64(len(readings)), "readings/op")
}

func BenchmarkParseLine(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseLine("Probe 1: 650.25 °C"); err != nil {
			b.Fatal(err)
		}
	}
}
