package schedule

import (
	"fmt"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// columned is a body part of which stands in columns.
type columned interface {
	put(*Row)
	take(Row)
}

// checkColumns refuses figures in columns that the kind does not use: they
// would be lost if the entry were written again.
func checkColumns(b Body, r Row) error {
	var own Row
	if c, ok := pointer(b).(columned); ok {
		c.put(&own)
	}
	figures := Row{Process: r.Process, Count: r.Count, Shape: r.Shape, Thick: r.Thick, Width: r.Width,
		Diameter: r.Diameter, Ring: r.Ring, Length: r.Length, Temp: r.Temp}
	if own != figures {
		return fmt.Errorf("%s: figures that do not belong to it", r.Kind)
	}
	return nil
}

// pointer is the body as the pointer whose methods reach the columns.
func pointer(b Body) any {
	switch b := b.(type) {
	case Started:
		return &b
	case Pass:
		return &b
	case Measured:
		return &b
	case Begun:
		return &b
	case Reached:
		return &b
	case Out:
		return &b
	case Filed:
		return &b
	}
	return nil
}

func (s *Started) put(r *Row) { s.Reading.put(r); r.Length = float64(s.Length) }
func (s *Started) take(r Row) { s.Reading.take(r); s.Length = unit.Millimetre(r.Length) }
func (p *Pass) put(r *Row) {
	p.Reading.put(r)
	r.Process, r.Count = string(p.Process), int64(p.Count)
}
func (p *Pass) take(r Row) {
	p.Reading.take(r)
	p.Process, p.Count = coldwork.Process(r.Process), int(r.Count)
}
func (m *Measured) put(r *Row) { m.Reading.put(r) }
func (m *Measured) take(r Row) { m.Reading.take(r) }
func (f *Filed) put(r *Row)    { f.Reading.put(r) }
func (f *Filed) take(r Row)    { f.Reading.take(r) }
func (b *Begun) put(r *Row)    { r.Temp = float64(b.Temp) }
func (b *Begun) take(r Row)    { b.Temp = unit.Celsius(r.Temp) }
func (b *Reached) put(r *Row)  { r.Temp = float64(b.Temp) }
func (b *Reached) take(r Row)  { b.Temp = unit.Celsius(r.Temp) }
func (b *Out) put(r *Row)      { r.Temp = float64(b.Temp) }
func (b *Out) take(r Row)      { b.Temp = unit.Celsius(r.Temp) }

func (g *Reading) put(r *Row) {
	if g.Size.Shape != unit.Unshaped {
		r.Shape = g.Size.Shape.String()
	}
	r.Thick, r.Width, r.Diameter = float64(g.Size.Thick), float64(g.Size.Width), float64(g.Size.Diameter)
	r.Ring = float64(g.Ring)
}

func (g *Reading) take(r Row) {
	g.Size = unit.Size{Shape: unit.ShapeNamed(r.Shape), Thick: unit.Millimetre(r.Thick),
		Width: unit.Millimetre(r.Width), Diameter: unit.Millimetre(r.Diameter)}
	g.Ring = unit.Millimetre(r.Ring)
}
