package schedule

import (
	"fmt"
	"math"
	"strconv"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// term is one addend of the work, and how it is written.
type term struct {
	head  string
	value float64 // strain
	// write gives the sum in words with d decimals of strain, and what it comes
	// to when it is done with the figures as they are printed.
	write func(d int) (text string, redone float64)
}

// fixed prints d decimals, without a minus sign on a rounded zero.
func fixed(f float64, d int) string {
	text := strconv.FormatFloat(f, 'f', d, 64)
	if v, err := strconv.ParseFloat(text, 64); err == nil && v == 0 {
		return strconv.FormatFloat(0, 'f', d, 64)
	}
	return text
}

// printed is the number that fixed prints.
func printed(f float64, d int) float64 {
	v, err := strconv.ParseFloat(fixed(f, d), 64)
	if err != nil {
		return f
	}
	return v
}

// figured prints a length of a sum whose strains have d decimals: three significant
// figures more, and no zeros behind the point. It also gives the number printed.
func figured(mm float64, d int) (string, float64) {
	v, err := strconv.ParseFloat(strconv.FormatFloat(mm, 'g', d+3, 64), 64)
	if err != nil {
		v = mm
	}
	return strconv.FormatFloat(v, 'f', -1, 64), v
}

// sideNames are what the two sides of a section are called, and what is left of
// the volume.
func sideNames(s coldwork.Section) (first, second, rest string) {
	switch {
	case s.Shape == unit.Tube:
		return "wall", "girth", "length"
	case s.Shape == unit.Ring:
		return "thickness", "width", "the way round the ring"
	case s.Shape == unit.Sheet:
		return "wall", "ring", "the way up the wall"
	}
	return "thickness", "width", "length"
}

// changeTerm is the term of one change of section.
func changeTerm(c coldwork.Change) term {
	t := term{head: "step", value: float64(c.Strain())}
	switch {
	case c.Broken:
		t.head, t.write = "trim", func(int) (string, float64) {
			return fmt.Sprintf("%v to %v: no strain (metal was taken off, or the two readings cannot be set against each other)", c.From, c.To), 0
		}
	case t.value == 0:
		t.write = func(int) (string, float64) { return fmt.Sprintf("%v to %v: no change", c.From, c.To), 0 }
	case c.From.Shape == unit.Sheet && c.From.Diameter == 0:
		t.write = func(d int) (string, float64) { return sheetStep(c, d) }
	default:
		t.write = func(d int) (string, float64) { return barStep(c, d) }
	}
	return t
}

// slight says of a change that it may be none.
func slight(c coldwork.Change) string {
	if c.Slight {
		return " (within the error of the calliper: kept as a net change until a reading shows more)"
	}
	return ""
}

func sheetStep(c coldwork.Change, d int) (string, float64) {
	from, to := c.Sides()
	a, _ := figured(from[0], d)
	b, _ := figured(to[0], d)
	ln := math.Log(to[0] / from[0])
	text := fmt.Sprintf("%v to %v%s: thickness ln(%s/%s) = %s, the width is taken not to change; strain (2/sqrt 3) x %s = %s",
		c.From, c.To, slight(c), b, a, fixed(ln, d+1), fixed(math.Abs(ln), d+1), fixed(float64(c.Strain()), d))
	return text, 2 / math.Sqrt(3) * math.Abs(printed(ln, d+1))
}

// barStep is a change of two sides; the third direction is what constant volume leaves.
func barStep(c coldwork.Change, d int) (string, float64) {
	from, to := c.Sides()
	first, second, rest := sideNames(c.From)
	log := func(i int) (string, float64) {
		a, _ := figured(from[i], d)
		b, _ := figured(to[i], d)
		ln := math.Log(to[i] / from[i])
		return fmt.Sprintf("ln(%s/%s) = %s", b, a, fixed(ln, d+1)), printed(ln, d+1)
	}
	one, et := log(0)
	two, ew := log(1)
	across := fmt.Sprintf("%s %s, %s %s", first, one, second, two)
	if bothRound(c) {
		across = acrossRound(c, d)
	}
	el := printed(-(et + ew), d+1)
	text := fmt.Sprintf("%v to %v%s: %s%s, %s is what is left, %s; strain sqrt(2/3 x (%s² + %s² + %s²)) = %s",
		c.From, c.To, slight(c), sidesFrom(c, d), across, rest, signed(el, d+1),
		fixed(math.Abs(et), d+1), fixed(math.Abs(ew), d+1), fixed(math.Abs(el), d+1), fixed(float64(c.Strain()), d))
	return text, math.Sqrt(2. / 3 * (et*et + ew*ew + el*el))
}

func signed(f float64, d int) string {
	if text := fixed(f, d); printed(f, d) > 0 {
		return "+" + text
	}
	return fixed(f, d)
}

func bothRound(c coldwork.Change) bool { return c.From.Shape == unit.Round && c.To.Shape == unit.Round }

func acrossRound(c coldwork.Change, d int) string {
	a, _ := figured(float64(c.From.Diameter), d)
	b, _ := figured(float64(c.To.Diameter), d)
	ln := math.Log(float64(c.To.Diameter / c.From.Diameter))
	return fmt.Sprintf("diameter ln(%s/%s) = %s, the same in both directions across", b, a, fixed(ln, d+1))
}

// sidesFrom says how the sides of a section come from what was read, where they
// are not what was read.
func sidesFrom(c coldwork.Change, d int) string {
	from, to := c.Sides()
	out := ""
	for i, s := range []coldwork.Section{c.From, c.To} {
		side := [][2]float64{from, to}[i]
		across, _ := figured(float64(s.Diameter), d)
		thick, _ := figured(float64(s.Thick), d)
		switch {
		case s.Shape == unit.Round && !bothRound(c):
			made, _ := figured(side[0], d)
			out += fmt.Sprintf("%s round counts as the square of the same area, side sqrt(pi)/2 x %s = %s; ", across, across, made)
		case s.Shape == unit.Tube:
			made, _ := figured(side[1], d)
			out += fmt.Sprintf("girth pi x (%s - %s) = %s; ", across, thick, made)
		}
	}
	return out
}
