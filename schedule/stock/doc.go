// Package stock reckons how much metal a piece takes: its shape as sections
// along its length, its volume and mass, what to cast so that enough is left
// after the losses of the workshop, and what a given weight is enough for.
//
//	s, err := stock.ParseShape("0:6x3 95:18x3 190:6x3")
//	s.Volume()                                  // 6840 mm³
//	j := stock.Job{Volume: s.Volume(), Density: stock.Spread{Value: 10.36, Low: 10.36, High: 10.36}}
//	m, err := j.Forward()                       // m.Cast, m.Bar, m.Lost
//
// # Volume
//
// Between two stations both sides taper straight, so that the area of the
// section is a quadratic of the place and the prismoidal rule,
// V = L/6 (A1 + 4 Am + A2), is exact, for a round frustum as for a bar that
// tapers both ways. The mean of the end areas, which is often used in its
// place, gives too much.
//
// # Losses
//
// A loss is a share of the mass that reaches it, so losses multiply:
// cast = finished / ∏(1 - loss). The shares that stand in for what the smith
// does not say are habits of the trade or judgements, and each says which.
package stock
