package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
	"dullred/schedule/stock"
)

// job is a whole job, with its metal and its bar.
func (f planFlags) job(book *alloys.Book) (j schedule.PlanJob, err error) {
	if f.alloy == "" || f.bowl == "" && (f.bar == "" || f.shape == "") {
		return j, refuse(planExample, "plan needs --alloy, --bar and --shape, or --alloy, --bowl and --thick")
	}
	alloy, err := book.Find(f.alloy)
	if err != nil {
		return j, err
	}
	if j, err = f.work(book); err != nil {
		return j, err
	}
	j.Alloy, j.Cast = string(alloy.ID), f.cast
	if f.bowl != "" {
		j.Bar, err = f.discOf(j.Bowl)
		return j, err
	}
	if j.Bar, j.Length, err = parseBar(f.bar); err != nil {
		return j, refuse("--bar 10x10x74 is 10 by 10 mm and 74 mm long", "%w", err)
	}
	return j, nil
}

// work is what is to be made, of whatever bar.
func (f planFlags) work(book *alloys.Book) (j schedule.PlanJob, err error) {
	j = schedule.PlanJob{Stamp: f.stamp, Limit: f.limit, Temper: schedule.PlanTemper(strings.ToLower(strings.TrimSpace(f.temper)))}
	if err = f.made(&j); err != nil {
		return j, err
	}
	if j.Bend, err = f.radius(); err != nil {
		return j, err
	}
	for _, t := range f.joints {
		joint, err := parseJoint(book, t)
		if err != nil {
			return j, refuse("mend --joint: NAME:SOLDER@SOLIDUS, such as rim:hard@745, with the solidus on the maker's sheet", "%w", err)
		}
		j.Joints = append(j.Joints, joint)
	}
	return j, nil
}

// made reads the shape, or the bowl in its place, and the twist.
func (f planFlags) made(j *schedule.PlanJob) (err error) {
	switch {
	case f.bowl != "" && (f.shape != "" || f.bar != "" || len(f.tangs) > 0):
		return refuse("give one of them", "--shape, --bar and --tang are of a bar, and --bowl is made of a disc")
	case f.bowl == "" && (f.thick != "" || f.disc != "" || f.sunk):
		return refuse(`dullred plan --alloy copper --bowl "hemispherical 100x50" --thick 0.9`, "--thick, --disc and --sunk belong to --bowl")
	case f.bowl != "":
		if j.Bowl, err = stock.ParseBowl(f.bowl); err != nil {
			return refuse("mend --bowl", "%w", err)
		}
		j.Sunk = f.sunk
	default:
		if j.Shape, err = f.forged(); err != nil {
			return err
		}
	}
	j.Turns, j.Over, err = parseTwist(f.twist)
	return err
}

func (f planFlags) forged() (shape stock.Shape, err error) {
	if shape, err = stock.ParseShape(f.shape); err != nil {
		return shape, refuse(`mend --shape, such as "0:6x3 95:18x3 190:6x3"`, "%w", err)
	}
	for _, t := range f.tangs {
		if shape, err = shape.WithTang(t); err != nil {
			return shape, refuse("mend --tang", "%w", err)
		}
	}
	return shape, nil
}

// discOf is the disc of a bowl: the one that was named, or the next whole
// millimetre from that of equal area.
func (f planFlags) discOf(b stock.Bowl) (z unit.Size, err error) {
	z = unit.Size{Shape: unit.Sheet, Diameter: unit.Millimetre(math.Ceil(float64(b.Disc())))}
	if f.thick == "" {
		return z, refuse("give the thickness of the disc, such as --thick 0.9", "--bowl needs --thick")
	}
	if z.Thick, err = unit.ParseLength(f.thick); err == nil && f.disc != "" {
		z.Diameter, err = unit.ParseLength(f.disc)
	}
	if err != nil {
		return z, refuse("mend --thick or --disc", "%w", err)
	}
	return z, nil
}

// parseTwist reads TURNSxLENGTH; nothing is no twist.
func parseTwist(text string) (turns float64, over unit.Millimetre, err error) {
	if text == "" {
		return 0, 0, nil
	}
	n, length, ok := strings.Cut(strings.ReplaceAll(text, "×", "x"), "x")
	if turns, err = strconv.ParseFloat(strings.TrimSpace(n), 64); ok && err == nil {
		over, err = unit.ParseLength(strings.TrimSpace(length))
	}
	if !ok || err != nil || math.IsNaN(turns) || math.IsInf(turns, 0) {
		return 0, 0, refuse("--twist 5x100 is 5 turns over 100 mm", "%.40q is no twist", text)
	}
	return turns, over, nil
}

// radius is the inside radius of the bend; 0 for a straight piece.
func (f planFlags) radius() (r unit.Millimetre, err error) {
	switch {
	case f.bends && f.inside != "":
		return 0, refuse("give one of them", "--bend is a radius and --inside the same as a diameter")
	case f.bends:
		r, err = unit.ParseLength(f.bend)
	case f.inside != "":
		r, err = unit.ParseLength(f.inside)
		r /= 2
	}
	if err != nil {
		return 0, refuse("give the inside radius, such as --bend 30, or leave it away for a straight piece", "%w", err)
	}
	return r, nil
}

// parseBar reads a section and, behind the last x, a length, which may be left away.
func parseBar(text string) (unit.Size, unit.Millimetre, error) {
	text = strings.ReplaceAll(text, "×", "x")
	size, err := unit.ParseSize(text, unit.Unshaped)
	if err == nil {
		return size, 0, nil
	}
	i := strings.LastIndexAny(text, "xX")
	if i < 0 {
		return size, 0, err
	}
	size, err = unit.ParseSize(strings.TrimSpace(text[:i]), unit.Unshaped)
	if err != nil {
		return size, 0, err
	}
	length, err := unit.ParseLength(strings.TrimSpace(text[i+1:]))
	return size, length, err
}

// parseJoint reads NAME:SOLDER, with the maker's solidus behind an @.
func parseJoint(book *alloys.Book, text string) (heat.Joint, error) {
	name, solder, ok := strings.Cut(text, ":")
	if name = strings.TrimSpace(name); !ok || schedule.CheckName(name) != nil {
		return heat.Joint{}, fmt.Errorf("%.60q is no joint", text)
	}
	solder, warm, typed := strings.Cut(solder, "@")
	var solidus unit.Celsius
	if typed {
		var err error
		if solidus, err = unit.ParseTemperature(warm); err != nil {
			return heat.Joint{}, err
		}
	}
	j, err := heat.JointOf(book, solder, solidus, 0)
	j.Name = name
	return j, err
}
