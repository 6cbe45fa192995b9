package unit

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// figure writes a figure in the style and gives where to go on.
func (r *restyle) figure(f figure) int {
	c, turned := r.style.turn(f.unit)
	if f.bare && !turned {
		return f.to
	}
	if !turned {
		for _, n := range f.numbers {
			r.number(n)
		}
		return f.to
	}
	if f.unit == "°C" && r.difference(f) {
		c.plus = 0
	}
	decimals := max(0, r.decimals(f.numbers)+c.shift)
	for _, n := range f.numbers {
		r.convert(n, c, decimals)
	}
	if f.bare {
		r.put(f.to, f.to, " "+c.unit)
		return f.to
	}
	r.put(f.from, f.to, c.unit)
	return r.tail(f, c, decimals)
}

// decimals are those of the finest number.
func (r *restyle) decimals(numbers []numeral) (most int) {
	for _, n := range numbers {
		if point := strings.IndexByte(r.text[n.from:n.to], '.'); point >= 0 {
			most = max(most, n.to-n.from-point-1)
		}
	}
	return most
}

// convert writes a number in another unit, with its sign where it has one.
func (r *restyle) convert(n numeral, c conversion, decimals int) {
	v, _ := strconv.ParseFloat(r.text[n.from:n.to], 64) // digits and a point
	from := n.from
	if from-1 >= r.done && from > 0 && r.text[from-1] == '-' && r.signed(from-1) {
		v, from = -v, from-1
	}
	r.put(from, n.to, r.style.decimal(strconv.FormatFloat(round(v*c.times+c.plus, decimals), 'f', decimals, 64)))
}

// signed reports whether the dash at i is a minus: nothing stands before it.
func (r *restyle) signed(i int) bool {
	before, size := utf8.DecodeLastRuneInString(r.text[:i])
	return size == 0 || unicode.IsSpace(before) || before == '('
}

// tail takes what a temperature has in brackets behind it: the same in °F, which
// falls away, or a range with no unit, which is turned with it.
func (r *restyle) tail(f figure, c conversion, decimals int) int {
	rest := r.text[f.to:]
	if f.unit != "°C" || !strings.HasPrefix(rest, " (") {
		return f.to
	}
	closing := strings.IndexByte(rest, ')')
	if closing < 0 {
		return f.to
	}
	if inside := rest[2:closing]; strings.HasSuffix(inside, " °F") {
		if _, err := strconv.ParseFloat(strings.TrimSuffix(inside, " °F"), 64); err == nil {
			r.put(f.to, f.to+closing+1, "")
			return f.to + closing + 1
		}
	}
	var in figure
	end, sides := r.measure(&in, f.to+2)
	start := r.joint(end)
	if sides != 1 || start == 0 {
		return f.to
	}
	if end, sides = r.measure(&in, start); sides != 1 || end != f.to+closing {
		return f.to
	}
	for _, n := range in.numbers {
		r.convert(n, c, decimals)
	}
	return end
}

// number writes a number that keeps its unit, or has none.
func (r *restyle) number(n numeral) {
	if text := r.text[n.from:n.to]; r.style.Comma && strings.Contains(text, ".") && !r.cited(n.from) && !r.placed(n) {
		r.put(n.from, n.to, r.style.decimal(text))
	}
}

// decimal is a number with the decimal sign of the style.
func (s Style) decimal(text string) string {
	if s.Comma {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

// conversion is one unit in another: times, and then plus.
type conversion struct {
	unit        string
	times, plus float64
	shift       int // decimals more, or fewer
}

const inch = 25.4 // mm, exactly

// turn is how a unit is turned in a style; false where it stays.
func (s Style) turn(unit string) (conversion, bool) {
	c := conversion{unit: unit, times: 1}
	switch unit {
	case "°C":
		c = conversion{unit: "°F", times: 9.0 / 5, plus: 32}
		return c, s.Fahrenheit
	case "g", "kg", "mg":
		c.unit, c.times = "ozt", masses[unit]/masses["ozt"]
		if s.Weight == Pennyweights {
			c.unit, c.times = "dwt", masses[unit]/masses["dwt"]
		}
		return c.shifted(), s.Weight != Grams
	case "mm":
		c.unit, c.times = "in", 1/inch
	case "cm":
		c.unit, c.times = "in", 10/inch
	case "µm":
		c.unit, c.times = "in", 0.001/inch
	case "mm²":
		c.unit, c.times = "in²", 1/(inch*inch)
	case "cm²":
		c.unit, c.times = "in²", 100/(inch*inch)
	case "mm³":
		c.unit, c.times = "in³", 1/(inch*inch*inch)
	case "cm³":
		c.unit, c.times = "in³", 1000/(inch*inch*inch)
	default:
		return c, false
	}
	return c.shifted(), s.Inches
}

// shifted fills in the fewest decimals more that keep the last digit of the new
// unit no coarser than that of the old.
func (c conversion) shifted() conversion {
	c.shift = int(math.Ceil(-math.Log10(c.times) - 1e-9))
	return c
}
