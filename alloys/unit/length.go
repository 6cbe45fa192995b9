package unit

import (
	"errors"
	"fmt"
	"strings"
)

// The shortest and the longest length that is taken for a reading at a bench;
// what lies outside is a slip of the keyboard.
const (
	MinLength Millimetre = 0.001
	MaxLength Millimetre = 100_000
)

// lengths are millimetres per unit; the inch is 25.4 mm exactly (NIST Handbook
// 44, App. C). The metre is left out: 8m is sooner a slip for 8mm.
var lengths = map[string]float64{
	"": 1, "mm": 1, "cm": 10,
	"in": 25.4, `"`: 25.4, "inch": 25.4, "inches": 25.4,
}

// ParseLength reads a length such as 8, 8mm, 12,5, 1.2cm, 0.5in, 0.5", 1/2in or
// 20ga. A bare number is in mm; ga, gauge and awg are the Brown & Sharpe gauge
// (see Gauge). It refuses what is outside MinLength to MaxLength, and the
// British standard wire gauge, which is another table.
//
// A fraction must be in inches: a bare 1/2 would be taken for half a millimetre
// by this package and for half an inch by whoever typed it.
func ParseLength(s string) (Millimetre, error) { return parse(s, readLength) }

var errLength = errors.New("expected a length such as 8, 12.5mm, 0.5in, 1/2in or 20ga")

func readLength(words []string) (Millimetre, error) {
	r, ok := only(words)
	if !ok {
		return 0, errLength
	}
	return r.length()
}

// length is the reading in mm, within bounds.
func (r reading) length() (Millimetre, error) {
	if r.isGauge() {
		return r.gauge()
	}
	v, ok := r.in(lengths)
	if strings.Contains(r.number, "/") {
		v, ok = r.inchFraction()
	}
	if !ok {
		return 0, errLength
	}
	return Millimetre(v), Millimetre(v).check()
}

// inchFraction reads two whole numbers with a stroke between them.
func (r reading) inchFraction() (float64, bool) {
	top, bottom, _ := strings.Cut(r.number, "/")
	n, okTop := whole(top)
	d, okBottom := whole(bottom)
	return convert(n/d, lengths["in"]), okTop && okBottom && lengths[r.unit] == lengths["in"]
}

func whole(number string) (float64, bool) {
	v, ok := decimal(number, "")
	return v, ok && !strings.ContainsAny(number, ".,")
}

// check is also the guard against NaN and the infinities.
func (l Millimetre) check() error {
	if l >= MinLength && l <= MaxLength {
		return nil
	}
	return fmt.Errorf("%v mm is not a length from 0.001 mm to 100 m", float64(l))
}
