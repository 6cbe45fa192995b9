package probe

import (
	"slices"
	"sort"
	"time"

	"dullred/alloys/unit"
)

// What a Trace is made of.
const (
	Tick      = 100 * time.Millisecond // moments are kept to it
	MaxGap    = 30 * time.Second       // readings further apart are not joined
	MaxLength = 24 * time.Hour         // of one trace

	// Tolerance is how far a reading may lie from the curve, in K, at its moment
	// rounded to a Tick.
	Tolerance unit.Celsius = 1
)

// perKelvin is how finely temperatures are kept: tenths of a kelvin.
const perKelvin = 10

// knot is a reading that was kept: in ticks from the beginning and tenths of °C.
type knot struct {
	at, temp int64
	apart    bool // not joined to the one before
}

func (k knot) moment() time.Duration { return time.Duration(k.at) * Tick }
func (k knot) celsius() unit.Celsius { return unit.Celsius(float64(k.temp) / perKelvin) }

// Trace is the curve of one heat: straight lines between some of its readings,
// which no other reading is further from than Tolerance. Where there were no
// readings for more than MaxGap there is no line, and nothing is known. The zero
// Trace knows nothing. A Trace does not change.
type Trace struct{ knots []knot }

// Point is a reading that a trace has kept.
type Point struct {
	At    time.Duration // from the beginning
	Temp  unit.Celsius
	Apart bool // nothing is known between it and the point before
}

// Points are the corners of the curve in the order of time.
func (t Trace) Points() []Point {
	points := make([]Point, len(t.knots))
	for i, k := range t.knots {
		points[i] = Point{k.moment(), k.celsius(), k.apart}
	}
	return points
}

// Length is the moment of the last reading, from the beginning; 0 without one.
func (t Trace) Length() time.Duration {
	if len(t.knots) == 0 {
		return 0
	}
	return t.knots[len(t.knots)-1].moment()
}

// At is the temperature at a moment from the beginning, and whether it is known.
func (t Trace) At(d time.Duration) (unit.Celsius, bool) {
	i := sort.Search(len(t.knots), func(i int) bool { return t.knots[i].moment() >= d })
	if i == len(t.knots) {
		return 0, false
	}
	if t.knots[i].moment() == d {
		return t.knots[i].celsius(), true
	}
	if i == 0 || t.knots[i].apart {
		return 0, false
	}
	return piece{t.knots[i-1], t.knots[i]}.at(d), true
}

// Max is the highest temperature and when it was first there. It is false for a
// trace without readings. No reading was higher by more than Tolerance.
func (t Trace) Max() (highest Point, known bool) {
	for _, p := range t.Points() {
		if !known || p.Temp > highest.Temp {
			highest, known = p, true
		}
	}
	return highest, known
}

// Above is how long the curve was above a temperature. What is not known is not
// counted.
func (t Trace) Above(limit unit.Celsius) (total time.Duration) {
	for p := range t.pieces {
		total += p.above(limit)
	}
	return total
}

// Span is a stretch of a curve.
type Span struct {
	From, To  time.Duration
	Low, High unit.Celsius
}

// Spans cuts the time from the beginning to Length into stretches of a step, at
// least a Tick, the last of them shorter or of one moment, and gives the lowest
// and highest temperature of each. A stretch of which nothing is known is left out.
func (t Trace) Spans(step time.Duration) (spans []Span) {
	step = max(step, Tick)
	grow := func(from time.Duration, temps ...unit.Celsius) {
		if n := len(spans); n > 0 && spans[n-1].From == from {
			temps = append(temps, spans[n-1].Low, spans[n-1].High)
			spans = spans[:n-1]
		}
		spans = append(spans, Span{from, min(from+step, t.Length()), slices.Min(temps), slices.Max(temps)})
	}
	for i, k := range t.knots {
		if i > 0 && !k.apart {
			p := piece{t.knots[i-1], k}
			for from := p.from.moment().Truncate(step); from < k.moment(); from += step {
				grow(from, p.at(max(from, p.from.moment())), p.at(min(from+step, k.moment())))
			}
		}
		grow(k.moment().Truncate(step), k.celsius())
	}
	return spans
}

// pieces are the straight lines of a curve.
func (t Trace) pieces(yield func(piece) bool) {
	for i, k := range t.knots {
		if i > 0 && !k.apart && !yield(piece{t.knots[i-1], k}) {
			return
		}
	}
}

// piece is a straight line of a curve.
type piece struct{ from, to knot }

func (p piece) length() time.Duration { return p.to.moment() - p.from.moment() }

// at is the temperature at a moment within the piece.
func (p piece) at(d time.Duration) unit.Celsius {
	share := float64(d-p.from.moment()) / float64(p.length())
	low, high := p.from.celsius(), p.to.celsius()
	return low + (high-low)*unit.Celsius(share)
}

// above is how long a piece was above a temperature.
func (p piece) above(limit unit.Celsius) time.Duration {
	low, high := min(p.from.celsius(), p.to.celsius()), max(p.from.celsius(), p.to.celsius())
	switch {
	case low > limit:
		return p.length()
	case high <= limit:
		return 0
	}
	return time.Duration(float64((high-limit)/(high-low)) * float64(p.length()))
}
