package schedule

import (
	"math"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// The grid of a way: sizes a tenth of a millimetre apart, or as many tenths as keep
// a stretch to mostStops of them.
const (
	calliperTenth = 0.1
	mostStops     = 40
)

// spareArea is what a zone keeps above its finished area until it is spread, for the
// hammer marks, the file and what the peen lengthens: 2 %, a judgement.
const spareArea = 1.02

// wireFrom is the diameter from which a tang goes through the drawplate, in mm; a
// judgement, above it a hand does not pull it.
const wireFrom = 4.0

// planStop is a size at which a pass may stop.
type planStop struct {
	section coldwork.Section
	area    float64
	process coldwork.Process // by which it is reached
}

// planPath is the way of a zone, or of the whole bar, from one section to another:
// straight stretches that meet at corners.
type planPath struct {
	stops   []planStop
	corners []int     // index of the last stop of each stretch but the last
	work    []float64 // strain from stop i to stop j at i*len(stops)+j; +Inf where no hammer goes
}

func (p *planPath) last() int { return len(p.stops) - 1 }

func (p *planPath) between(i, j int) float64 { return p.work[i*len(p.stops)+j] }

func newPath(start coldwork.Section) planPath {
	return planPath{stops: []planStop{{section: start, area: areaOf(start)}}}
}

// add continues a way by stops of one direction.
func (p *planPath) add(stops []planStop) {
	if len(stops) == 0 {
		return
	}
	if len(p.stops) > 1 {
		p.corners = append(p.corners, p.last())
	}
	p.stops = append(p.stops, stops...)
}

// measure fills in the work between all stops. Within a stretch it is that of the
// two readings; across a corner the corner is read too.
func (p *planPath) measure() {
	n := len(p.stops)
	p.work = make([]float64, n*n)
	for i := n - 1; i >= 0; i-- {
		corner := p.cornerAfter(i)
		for j := i + 1; j < n; j++ {
			w := math.Inf(1)
			switch {
			case j > corner:
				w = p.between(i, corner) + p.between(corner, j)
			case p.stops[j].area <= p.stops[i].area+1e-9:
				w = float64(coldwork.Between(p.stops[i].section, p.stops[j].section))
			}
			p.work[i*n+j] = w
		}
	}
}

func (p *planPath) cornerAfter(i int) int {
	for _, c := range p.corners {
		if c > i {
			return c
		}
	}
	return p.last()
}

// bar is a section of two sides, the thinner first.
func bar(thin, wide float64) coldwork.Section {
	return coldwork.Section{Shape: unit.Rectangular, Thick: unit.Millimetre(thin), Width: unit.Millimetre(wide)}
}

func stopAt(s coldwork.Section, p coldwork.Process) planStop { return planStop{s, areaOf(s), p} }

func floorTenth(x float64) float64 { return math.Floor(x*10+1e-6) / 10 }

func ceilTenth(x float64) float64 { return math.Ceil(x*10-1e-6) / 10 }

// tenths are sizes from below one down to another, both of them tenths.
func tenths(from, to float64) (all []float64) {
	step := max(1, math.Ceil((from-to)*10/mostStops-1e-9))
	for k := math.Round(to * 10); k/10 < from-1e-9; k += step {
		all = append([]float64{k / 10}, all...)
	}
	return all
}

// drawn is the section a bar of these sides is drawn to, both sides by one share,
// so that an area is left: sizes to 0.1 mm, never less than the area.
func drawn(thin, wide, area float64) (t, w float64) {
	ratio := wide / thin
	for t = ceilTenth(math.Sqrt(area / ratio)); ; t = math.Round(t*10+1) / 10 {
		w = floorTenth(t * ratio)
		if t >= thin-1e-9 || w >= wide-1e-9 {
			return thin, wide
		}
		if t*w >= area-1e-9 {
			return t, w
		}
	}
}

// drawing are the stops that draw a bar of two sides down to a thickness, both
// sides by one share.
func drawing(from coldwork.Section, to float64) (stops []planStop) {
	thin, wide := sidesOf(from)
	for _, t := range tenths(thin, to) {
		stops = append(stops, stopAt(bar(t, floorTenth(t*wide/thin)), coldwork.Lengthen))
	}
	return stops
}

// spreading are the stops that flatten a section to a thinner one. Its area goes
// evenly from the one to the other, which is nearly constant.
func spreading(from, to coldwork.Section) (stops []planStop) {
	thin, _ := sidesOf(from)
	end, wide := sidesOf(to)
	a0, a1 := areaOf(from), end*wide
	for _, t := range tenths(thin, ceilTenth(end)) {
		if t <= end+1e-9 {
			break
		}
		area := a1 + (a0-a1)*math.Log(t/end)/math.Log(thin/end)
		w := floorTenth(area / t)
		if t*w < a1-1e-9 {
			w = area / t
		}
		stops = append(stops, stopAt(bar(t, w), coldwork.Widen))
	}
	return append(stops, planStop{to, areaOf(to), coldwork.Flatten})
}

// narrowing are the stops to a section that is less flat than the bar: its width
// goes, and of its thickness what is too much.
func narrowing(from, to coldwork.Section) (stops []planStop) {
	thin, wide := sidesOf(from)
	t1, w1 := sidesOf(to)
	for _, w := range tenths(wide, ceilTenth(w1)) {
		if w <= w1+1e-9 || wide-w1 < 1e-9 {
			break
		}
		t := floorTenth(thin * math.Pow(t1/thin, math.Log(wide/w)/math.Log(wide/w1)))
		t = min(max(t, t1), thin, w)
		stops = append(stops, stopAt(bar(t, w), coldwork.Lengthen))
	}
	return append(stops, planStop{to, areaOf(to), coldwork.Lengthen})
}

// wiring are the stops of a tang through the drawplate.
func wiring(from, to coldwork.Section) (stops []planStop) {
	d := float64(to.Diameter)
	top := min(wireFrom, 2*math.Sqrt(areaOf(from)/math.Pi))
	for _, x := range tenths(top, ceilTenth(d)) {
		if x > d+1e-9 {
			stops = append(stops, stopAt(coldwork.Section{Shape: unit.Round, Diameter: unit.Millimetre(x)}, coldwork.Draw))
		}
	}
	return append(stops, planStop{to, areaOf(to), coldwork.Draw})
}

// flatter reports whether a target is at least as flat as a bar that is drawn to
// its area, so that it is drawn first and spread then.
func flatter(from, to coldwork.Section) bool {
	thin, wide := sidesOf(from)
	t, w := sidesOf(to)
	return w/t >= wide/thin-1e-9
}

// goal is what a zone is hammered to before it is rounded or goes through the
// plate: a square of its area with something to spare; for other ends the end.
func (z *planTarget) goal() coldwork.Section {
	if z.end.Shape != unit.Round {
		return z.end
	}
	side := ceilTenth(math.Sqrt(z.drawTo()))
	return bar(side, side)
}

// drawTo is the area that a zone keeps until it is spread or rounded, in mm².
func (z *planTarget) drawTo() float64 {
	least := areaOf(z.end) * spareArea
	if z.Wire {
		least = max(least, math.Pi/4*wireFrom*wireFrom)
	}
	return least
}

// wayTo is the way of a zone from a section to its end.
func (z *planTarget) wayTo(from coldwork.Section) planPath {
	p := newPath(from)
	at := from
	if goal := z.goal(); areaOf(goal) < areaOf(from)-1e-9 || z.end.Shape != unit.Round {
		at = p.shape(z, goal)
	}
	switch end := z.end; {
	case end.Shape != unit.Round || reachedBy(at, end):
	case z.Wire:
		p.add(wiring(at, end))
	default:
		p.add([]planStop{{end, areaOf(end), coldwork.Lengthen}})
	}
	p.measure()
	return p
}

// shape hammers a way from its only stop to a section with two sides, and gives
// what it has come to.
func (p *planPath) shape(z *planTarget, to coldwork.Section) coldwork.Section {
	at := p.stops[0].section
	thin, wide := sidesOf(at)
	if !flatter(at, to) {
		p.add(narrowing(at, to))
		return to
	}
	if t, w := drawn(thin, wide, z.drawTo()); t < thin-1e-9 {
		p.add(drawing(at, t))
		at = bar(t, w)
	}
	switch {
	case reachedBy(at, to):
		return at
	case alike(at, to):
		p.add(narrowing(at, to))
	default:
		p.add(spreading(at, to))
	}
	return to
}

// alike reports whether a target is as flat as a section.
func alike(at, end coldwork.Section) bool {
	thin, wide := sidesOf(at)
	t, w := sidesOf(end)
	return math.Abs(w/t-wide/thin) < 0.02
}

// reachedBy reports whether a section is its end already, to 0.05 mm.
func reachedBy(at, end coldwork.Section) bool {
	thin, wide := sidesOf(at)
	t, w := sidesOf(end)
	return math.Abs(thin-t) < 0.05 && math.Abs(wide-w) < 0.05 && (end.Shape == unit.Round) == (at.Shape == unit.Round)
}
