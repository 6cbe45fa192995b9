package stock

import (
	"errors"
	"fmt"
	"math"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// Spread is a density in g/cm³ with the range of what is published.
type Spread struct{ Value, Low, High unit.Density }

// DensityOf is the density of an alloy that is computed with, and the range over
// every published figure that may be. It is false where none is published.
func DensityOf(a alloys.Alloy) (Spread, bool) {
	f, ok := a.Default(alloys.Density, "")
	if !ok {
		return Spread{}, false
	}
	s := Spread{unit.Density(f.Low+f.High) / 2, unit.Density(f.Low), unit.Density(f.High)}
	for _, g := range a.Figures(alloys.Density) {
		if g.Use != alloys.UseNever {
			s.Low, s.High = min(s.Low, unit.Density(g.Low)), max(s.High, unit.Density(g.High))
		}
	}
	return s, true
}

// Job is a piece to be made: how much of it there is, of what, and what is lost.
type Job struct {
	Volume  unit.CubicMillimetre
	Density Spread
	Losses  []Loss
	Bar     Section // what is cast; unknown for no bar
	Factor  float64 // share of its box that the bar fills, 0 for 1
}

// Lost is what a cause takes, in g.
type Lost struct {
	Loss
	Mass unit.Gram
}

// Metal is what a piece takes, in g and mm.
type Metal struct {
	Finished          unit.Gram
	Cast              unit.Gram // weighed in for the melt
	CastLow, CastHigh unit.Gram // over the spread of density and losses
	Bar               unit.Gram // cast less what the melt takes
	BarLength         unit.Millimetre
	Lost              []Lost
}

// Check verifies a job.
func (j Job) Check() error {
	switch {
	case !(j.Volume > 0 && j.Volume <= 1e12):
		return fmt.Errorf("a volume of %v is none that can be cast", j.Volume)
	case !(j.Density.Low > 0 && j.Density.Low <= j.Density.Value && j.Density.Value <= j.Density.High && j.Density.High <= 30):
		return errors.New("the density is not known, or is not one of a metal")
	case !(j.Factor == 0 || j.Factor >= 0.1 && j.Factor <= 1):
		return fmt.Errorf("a bar that fills %v of its box is not from 0.1 to 1", j.Factor)
	case j.Bar != Section{}:
		if err := j.Bar.check(); err != nil {
			return err
		}
	}
	return checkLosses(j.Losses)
}

// Finished is the mass of the finished piece in g.
func (j Job) Finished() unit.Gram { return j.Density.Value.Mass(j.Volume) }

// Forward is from the finished piece back to what must be cast:
// cast = finished / ∏(1 - loss), and the bar is what the melt leaves of it.
func (j Job) Forward() (Metal, error) {
	if err := j.Check(); err != nil {
		return Metal{}, err
	}
	m := Metal{Finished: j.Finished()}
	if m.Finished > unit.MaxMass {
		return Metal{}, fmt.Errorf("the piece would weigh %.0f kg, more than the 1000 kg that are reckoned with", float64(m.Finished)/1000)
	}
	m.Cast = m.Finished / unit.Gram(keep(j.Losses, usual))
	m.CastLow = j.Density.Low.Mass(j.Volume) / unit.Gram(keep(j.Losses, least))
	m.CastHigh = j.Density.High.Mass(j.Volume) / unit.Gram(keep(j.Losses, most))
	m.Lost = j.lost(m.Cast)
	m.Bar = m.Cast
	for _, l := range m.Lost {
		if l.Cause == Melt {
			m.Bar -= l.Mass
		}
	}
	m.BarLength = j.barOf(m.Bar)
	return m, nil
}

// lost are the losses of a melt, one after the other.
func (j Job) lost(of unit.Gram) (all []Lost) {
	for _, l := range j.Losses {
		all = append(all, Lost{l, of * unit.Gram(l.Share)})
		of -= of * unit.Gram(l.Share)
	}
	return all
}

// barOf is the length in mm of a bar of the job's section with a mass, 0 if the
// job has no bar.
func (j Job) barOf(mass unit.Gram) unit.Millimetre {
	area := float64(j.Bar.Area()) * j.factor()
	if area <= 0 {
		return 0
	}
	return unit.Millimetre(1000 * float64(mass) / float64(j.Density.Value) / area)
}

func (j Job) factor() float64 {
	if j.Factor == 0 {
		return 1
	}
	return j.Factor
}

// Enough says what a given mass is enough for.
type Enough struct {
	Finished unit.Gram // of the piece that it makes
	Scale    float64   // on the length, if every section stays: the longest piece
	ScaleAll float64   // on every dimension, if the proportions stay
	Needed   unit.Gram // for the piece as it is drawn
	Left     unit.Gram // over when that is made; below 0 it is short
	Bar      unit.Gram // less what the melt takes
	Length   unit.Millimetre
}

// Backward is from a mass in hand, weighed in for the melt, to the piece. A bar
// that is cast already loses nothing to the melt: leave that loss out.
func (j Job) Backward(have unit.Gram) (Enough, error) {
	if !(have >= unit.MinMass && have <= unit.MaxMass) {
		return Enough{}, fmt.Errorf("%v is not a mass from 0.0001 g to 1000 kg", have)
	}
	m, err := j.Forward()
	if err != nil {
		return Enough{}, err
	}
	ratio := float64(have / m.Cast)
	e := Enough{Finished: have * m.Finished / m.Cast, Scale: ratio, ScaleAll: math.Cbrt(ratio),
		Needed: m.Cast, Left: have - m.Cast, Bar: m.Bar * unit.Gram(ratio)}
	e.Length = j.barOf(e.Bar)
	return e, nil
}

// BoxMass is the mass of an ingot measured by its three sides in mm, which fills
// a share of that box. A full box overstates it much: one measured ingot filled
// 0.62. A balance is better.
func (j Job) BoxMass(sides [3]unit.Millimetre) unit.Gram {
	v := unit.CubicMillimetre(sides[0] * sides[1] * sides[2])
	return j.Density.Value.Mass(v) * unit.Gram(j.factor())
}
