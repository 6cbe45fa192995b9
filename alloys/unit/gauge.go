package unit

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// Gauge is a whole number of the Brown & Sharpe (American wire) gauge, by which
// non-ferrous wire and sheet are sold by the inch-pound trade. It runs from 0000
// (-3), 000 (-2), 00 (-1) and 0 to 40: the higher the number, the thinner the
// metal. The British standard wire gauge is another table and is never meant.
type Gauge int

// The thickest and the thinnest gauge that is read.
const (
	thickestGauge Gauge = -3 // 0000
	thinnestGauge Gauge = 40
)

// Diameter is 0.127 mm x 92^((36-n)/39), to the nanometre (ASTM B258). The same
// figure is the thickness of sheet sold by this gauge.
func (n Gauge) Diameter() Millimetre {
	return Millimetre(round(0.127*math.Pow(92, float64(36-n)/39), 6))
}

// String names the gauge, such as "20 B&S gauge" or "0000 B&S gauge".
func (n Gauge) String() string {
	text := strconv.Itoa(int(n))
	if n < 0 && n >= thickestGauge {
		text = strings.Repeat("0", 1-int(n))
	}
	return text + " B&S gauge"
}

// noughts are the sizes thicker than 1, as they are stamped and as they are written.
var noughts = map[string]Gauge{
	"0": 0, "00": -1, "000": -2, "0000": thickestGauge,
	"1/0": 0, "2/0": -1, "3/0": -2, "4/0": thickestGauge,
}

var (
	errGauge = errors.New("expected a whole B&S gauge from 0000 to 40, such as 20ga (not the British standard wire gauge)")
	errSWG   = errors.New("SWG is another table than the B&S gauge, so give the size in mm")
)

func (r reading) isGauge() bool {
	switch r.unit {
	case "ga", "gauge", "awg", "swg":
		return true
	}
	return false
}

// gauge is the reading, which isGauge, in mm.
func (r reading) gauge() (Millimetre, error) {
	if r.unit == "swg" {
		return 0, errSWG
	}
	if n, ok := noughts[r.number]; ok {
		return n.Diameter(), nil
	}
	n, err := strconv.Atoi(r.number)
	if err != nil || n < 1 || Gauge(n) > thinnestGauge || r.number[0] == '0' {
		return 0, errGauge
	}
	return Gauge(n).Diameter(), nil
}
