package main

import (
	"fmt"

	"dullred/alloys/unit"
	"dullred/schedule/stock"
)

// stockPiece is what is to be made: a shape, a ring, or a bowl of a disc.
type stockPiece struct {
	name   string
	volume unit.CubicMillimetre
	shape  *stock.Shape // nil for a bowl
	ring   *stock.Ring
	bowl   *stock.Bowl
	thick  unit.Millimetre // of the disc
	inside unit.Millimetre // 0 for not asked
}

// alone refuses flags that do not go together, and a question without a piece.
func (s stockFlags) alone() error {
	const do = "dullred stock --alloy sterling --shape \"0:6x3 95:18x3 190:6x3\" --bar 10x10"
	pieces := 0
	for _, text := range []string{s.shape, s.bowl, s.ring} {
		if text != "" {
			pieces++
		}
	}
	named := ""
	for _, l := range lossFlags {
		if *s.losses[l.cause] != "" && l.cause != stock.Work && l.cause != stock.Crop {
			named = "--" + l.name
		}
	}
	switch {
	case s.alloy == "" && s.density == "":
		return refuse(do, "stock needs --alloy, or your own --density")
	case pieces != 1:
		return refuse(do, "stock needs one piece, as --shape, --bowl or --ring")
	case (s.bowl == "") != (s.thick == ""):
		return refuse("dullred stock --alloy copper --bowl \"hemispherical 100x50\" --thick 0.9", "--bowl and --thick go together")
	case s.gap != "" && s.ring == "":
		return refuse("give --inside to learn the gap of a shape", "--gap belongs to --ring")
	case s.shape == "" && (len(s.tangs) > 0 || s.inside != ""):
		return refuse(do, "--tang and --inside belong to --shape")
	case *s.losses[stock.Work] != "" && named != "":
		return refuse("give one of the two", "--loss is all losses but the crop, so %s is in it already", named)
	}
	return nil
}

func (s stockFlags) parsePiece() (stockPiece, error) {
	switch {
	case s.ring != "":
		return s.parseRing()
	case s.bowl != "":
		return s.parseBowl()
	}
	shape, err := stock.ParseShape(s.shape)
	if err != nil {
		return stockPiece{}, refuse("mend --shape", "%w", err)
	}
	for _, text := range s.tangs {
		if shape, err = shape.WithTang(text); err != nil {
			return stockPiece{}, refuse("mend --tang", "%w", err)
		}
	}
	p := stockPiece{name: shape.String(), volume: shape.Volume(), shape: &shape}
	if s.inside != "" {
		if p.inside, err = unit.ParseLength(s.inside); err != nil {
			return p, refuse("mend --inside", "%w", err)
		}
	}
	return p, nil
}

func (s stockFlags) parseRing() (stockPiece, error) {
	r, err := stock.ParseRing(s.ring)
	if err != nil {
		return stockPiece{}, refuse("mend --ring", "%w", err)
	}
	if s.gap != "" {
		if r.Gap, err = unit.ParseLength(s.gap); err != nil {
			return stockPiece{}, refuse("mend --gap", "%w", err)
		}
	}
	if err := r.Check(); err != nil {
		return stockPiece{}, refuse("mend --ring or --gap", "%w", err)
	}
	shape := r.Shape()
	if err := shape.Check(); err != nil {
		return stockPiece{}, refuse("mend --ring", "%w", err)
	}
	name := fmt.Sprintf("ring %v inside, %v thick, %v wide", hundredth(r.Inside), r.Thick, r.Width)
	return stockPiece{name: name, volume: shape.Volume(), shape: &shape, ring: &r}, nil
}

func (s stockFlags) parseBowl() (stockPiece, error) {
	b, err := stock.ParseBowl(s.bowl)
	if err != nil {
		return stockPiece{}, refuse("mend --bowl", "%w", err)
	}
	p := stockPiece{bowl: &b}
	if p.thick, err = unit.ParseLength(s.thick); err != nil {
		return p, refuse("mend --thick", "%w", err)
	}
	p.name = fmt.Sprintf("%s bowl %v across, %v high, %v thick", b.Form, b.Diameter, b.Height, p.thick)
	p.volume = unit.CubicMillimetre(float64(b.Area()) * float64(p.thick))
	return p, nil
}
