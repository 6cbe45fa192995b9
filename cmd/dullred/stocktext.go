package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule/stock"
)

// text is the answer in the order in which it is needed: what to weigh in, the
// bar, the piece, where the rest goes, the drawing.
func (s stockSum) text(d stock.Drawing) string {
	var b strings.Builder
	line := func(head, text string) { b.WriteString(workedLine(head, text)) }
	head := s.piece.name
	if s.metal != "" {
		head = s.metal + ", " + head
	}
	b.WriteString(wrap("", "  ", head))
	if s.have > 0 {
		s.haveText(line)
	} else {
		line("cast", s.mass(s.needs.Cast)+s.castSpread())
	}
	s.barText(line)
	line("finished", fmt.Sprintf("%s, %v%s", s.mass(s.finished()), s.volume(), s.densityText()))
	line("lost", s.lostText())
	s.piece.text(line)
	if s.in != nil && !s.in.Exact {
		line(s.in.Name, s.in.Text(s.finished())+" finished; "+s.in.Published())
	}
	b.WriteString(s.piece.drawing(d))
	return b.String()
}

// finished is the mass of the piece, or of what the metal in hand gives.
func (s stockSum) finished() unit.Gram {
	if s.have > 0 {
		return s.enough.Finished
	}
	return s.needs.Finished
}

// volume is that of finished, rounded as it is shown.
func (s stockSum) volume() unit.CubicMillimetre {
	if s.have > 0 {
		return s.job.Volume * unit.CubicMillimetre(s.enough.Scale)
	}
	return s.job.Volume
}

// mass is a mass in g, and in the exact unit that was asked for.
func (s stockSum) mass(g unit.Gram) string {
	text := grams(g)
	if s.in != nil && s.in.Exact && s.in.Name != "g" {
		text += " (" + s.in.Text(g) + ")"
	}
	return text
}

func grams(g unit.Gram) string { return fmt.Sprintf("%.2f g", float64(g)) }

func (s stockSum) castSpread() string {
	if s.needs.CastHigh-s.needs.CastLow < 0.005*s.needs.Cast {
		return ""
	}
	return fmt.Sprintf("; %.1f to %.1f g over the spread of density and losses", float64(s.needs.CastLow), float64(s.needs.CastHigh))
}

func (s stockSum) densityText() string {
	d := s.job.Density
	if d.Low == d.High {
		return fmt.Sprintf(" at %v g/cm³", float64(d.Value))
	}
	return fmt.Sprintf(" at %v g/cm³ (published %v to %v)", float64(d.Value), float64(d.Low), float64(d.High))
}

// haveText is what the metal in hand is enough for.
func (s stockSum) haveText(line func(head, text string)) {
	e, from := s.enough, ""
	if s.box {
		from = fmt.Sprintf(", by its sides, filling %v of its box; a balance is better", s.factor())
	}
	line("have", s.mass(s.have)+from)
	text := "short by " + s.mass(-e.Left) + " for the piece as drawn"
	if e.Left >= 0 {
		text = s.mass(e.Left) + " over when the piece is made as drawn"
	}
	line("left", text+", which takes "+s.mass(e.Needed))
	longest := fmt.Sprintf("all lengths times %.4f at the same sections", e.Scale)
	if s.piece.shape != nil {
		longest = fmt.Sprintf("%.1f mm at the same sections, all lengths times %.4f", float64(s.piece.shape.Length())*e.Scale, e.Scale)
	}
	if s.piece.bowl != nil {
		longest = fmt.Sprintf("the area of the disc times %.4f", e.Scale)
	}
	line("longest", fmt.Sprintf("%s; or every dimension times %.4f", longest, e.ScaleAll))
}

func (s stockSum) factor() float64 {
	if s.job.Factor == 0 {
		return 1
	}
	return s.job.Factor
}

// barText is the bar to cast, and a warning where it is too thin.
func (s stockSum) barText(line func(head, text string)) {
	if s.job.Bar == (stock.Section{}) {
		return
	}
	length, mass := s.needs.BarLength, s.needs.Bar
	if s.have > 0 {
		length, mass = s.enough.Length, s.enough.Bar
	}
	text := fmt.Sprintf("%v, %.2f mm long, %s", s.job.Bar, float64(length), grams(mass))
	if f := s.factor(); f < 1 {
		text += fmt.Sprintf(", filling %v of its box", f)
	} else if s.have == 0 {
		text += ", if it fills its box; cast ingots are rounded, and one measured one filled 0.62 (--factor)"
	}
	line("bar", text)
	if s.tooThin() {
		area, at := s.piece.shape.Largest(0, s.piece.shape.Length())
		line("", fmt.Sprintf("too thin: it has %v and the piece %v at %v; drawing out never makes a section larger", s.barArea(), area, hundredth(at)))
	}
}

func (s stockSum) barArea() unit.SquareMillimetre {
	return s.job.Bar.Area() * unit.SquareMillimetre(s.factor())
}

// tooThin says that the bar has less section somewhere than the piece.
func (s stockSum) tooThin() bool {
	if s.piece.shape == nil || s.job.Bar == (stock.Section{}) {
		return false
	}
	area, _ := s.piece.shape.Largest(0, s.piece.shape.Length())
	return s.barArea() < area*(1-1e-9)
}

// lostText names the losses one by one.
func (s stockSum) lostText() string {
	var all []string
	k := 1.0
	if s.have > 0 {
		k = s.enough.Scale
	}
	for _, l := range s.needs.Lost {
		basis := l.Basis
		if l.Low != l.High {
			basis = fmt.Sprintf("%s, %s to %s %%", l.Basis, percentText(l.Low), percentText(l.High))
		}
		all = append(all, fmt.Sprintf("%s %s %% %.2f g (%s)", l.Cause, percentText(l.Share), float64(l.Mass)*k, basis))
	}
	return strings.Join(all, "; ")
}

func percentText(share float64) string { return strconv.FormatFloat(figure(100*share), 'f', -1, 64) }

// text is what is to be known of the piece itself.
func (p stockPiece) text(line func(head, text string)) {
	if p.bowl != nil {
		line("disc", fmt.Sprintf("%.1f mm across by area, if it keeps its thickness; %.1f mm by the rule of mouth and height added (common practice, from memory)",
			float64(p.bowl.Disc()), float64(p.bowl.RuleDisc())))
		return
	}
	if r := p.ring; r != nil {
		text := fmt.Sprintf("%.2f mm, at mid-thickness", float64(r.Blank()))
		if r.TradeBlank() != r.Blank() {
			text += fmt.Sprintf("; %.2f mm with what the trade adds beyond %v width (common practice)", float64(r.TradeBlank()), stock.WideRing)
		}
		line("blank", text)
	}
	area, at := p.shape.Largest(0, p.shape.Length())
	side, _ := p.shape.NearShape()
	line("guard", fmt.Sprintf("keep %v (%.2f mm square) at %v; drawing never gives it back", area, float64(side), hundredth(at)))
	if p.has(stock.D) {
		line("D", "taken as half an ellipse; a flat segment of a circle holds up to 15 % less, straight sides below hold more")
	}
	for _, t := range p.shape.Tangs {
		from := p.shape.EndSection(t.End)
		line("tang", fmt.Sprintf("%v round, %v long, takes %.1f mm of %s", t.Diameter, t.Length, float64(t.Needs(from)), from))
	}
	if p.inside > 0 {
		line("bent", p.gapText())
	}
}

// has reports whether some station is of a kind.
func (p stockPiece) has(k stock.Kind) bool {
	return slices.ContainsFunc(p.shape.Stations, func(st stock.Station) bool { return st.Section.Kind == k })
}

func (p stockPiece) gapText() string {
	gap := float64(p.shape.GapOf(p.inside))
	if gap < 0 {
		return fmt.Sprintf("round %v inside the ends pass each other by %.1f mm", p.inside, -gap)
	}
	return fmt.Sprintf("round %v inside a gap of %.1f mm is left, at half the thickness", p.inside, gap)
}

// hundredth is a length to what a calliper shows.
func hundredth(l unit.Millimetre) unit.Millimetre {
	return unit.Millimetre(math.Round(100*float64(l)) / 100)
}
