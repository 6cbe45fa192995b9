package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// torchFlags is what the sum of a heating was given.
type torchFlags struct {
	hotFlags
	flame, h, from, to string
	faces              int
	brick              bool
}

// torchNames are the flags that turn the command into the sum.
var torchNames = append([]string{"flame", "h", "from", "to", "faces", "brick"}, hotNames...)

// orTorchSum makes a command that only holds others reckon a heating if it is given
// the flags.
func (a *app) orTorchSum(cmd *cobra.Command) *cobra.Command {
	var t torchFlags
	t.add(cmd)
	f := cmd.Flags()
	f.StringVar(&t.flame, "flame", strconv.Itoa(int(heat.BenchFlame)), "sum: `TEMPERATURE` of the flame at the piece")
	f.StringVar(&t.h, "h", "", fmt.Sprintf("sum: what the flame gives, `W/m²K` (default the range %.0f to %.0f)", heat.TorchPrior.Low, heat.TorchPrior.High))
	f.StringVar(&t.from, "from", "", "sum: `TEMPERATURE` at the start (default the room's)")
	f.StringVar(&t.to, "to", "", "sum: `TEMPERATURE` wanted")
	f.IntVar(&t.faces, "faces", 1, "sum: faces in the flame, 1 or 2")
	f.BoolVar(&t.brick, "brick", false, "sum: hot brick behind, the back loses nothing")
	help := cmd.RunE
	cmd.Short = "log the torch: lit or out; or reckon how long it heats a piece"
	cmd.Long = cmd.Short + `.

  dullred torch --alloy copper --size 1x30 --length 100 --surface oxidised --to 600`
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if !given(cmd, torchNames) {
			return help(cmd, args)
		}
		return a.torchSum(t)
	}
	return cmd
}

// torchSum is a heating that was read. Without --h the times are a range.
type torchSum struct {
	hotPiece
	heat.Heating
	from, to          unit.Celsius
	torch             heat.Learned
	ranged            bool
	low, likely, high time.Duration
	never             string // why; empty if it gets there
}

func (a *app) torchSum(t torchFlags) error {
	if t.alloy == "" || t.size == "" || t.to == "" {
		return refuse("dullred torch --alloy copper --size 1x30 --length 100 --surface oxidised --to 600", "the sum needs --alloy, --size and --to")
	}
	book, err := a.metals()
	if err != nil {
		return err
	}
	sum, err := t.parse(book)
	if err != nil {
		return err
	}
	if err := sum.reckon(); err != nil {
		return err
	}
	return a.answer(sum.json(), sum.text())
}

func (t torchFlags) parse(book *alloys.Book) (s torchSum, err error) {
	if s.hotPiece, err = t.hotFlags.parse(book); err != nil {
		return s, err
	}
	if s.to, err = temperature("to", t.to); err != nil {
		return s, err
	}
	s.from = s.room
	if t.from != "" {
		if s.from, err = temperature("from", t.from); err != nil {
			return s, err
		}
	}
	flame := heat.Flame{Faces: t.faces, Brick: t.brick}
	if flame.Temp, err = temperature("flame", t.flame); err != nil {
		return s, err
	}
	if s.torch, s.ranged, err = t.strength(); err != nil {
		return s, err
	}
	flame.H = s.torch.H
	s.Heating = heat.Heating{Body: s.hotPiece.Body, Flame: flame, Emissivity: s.Value, Room: s.room}
	return s, nil
}

// strength is the smith's own figure, or the range of torches.
func (t torchFlags) strength() (l heat.Learned, ranged bool, err error) {
	if t.h == "" {
		return heat.LearnedFrom(nil), true, nil
	}
	v, err := plainFigure(t.h)
	if err != nil {
		return l, false, refuse("mend --h", "%w", err)
	}
	return heat.Learned{H: v, Low: v, High: v}, false, nil
}

func (s *torchSum) reckon() error {
	if err := s.hotPiece.Lumped(); err != nil {
		return refuse("give the part that the flame heats as --length", "%w", err)
	}
	var err error
	s.low, s.likely, s.high, err = s.torch.Time(s.Heating, s.from, s.to)
	if errors.Is(err, heat.ErrNever) {
		s.never = heat.ErrNever.Error()
		return nil
	}
	if err != nil {
		return refuse("mend the figures", "%w", err)
	}
	if s.likely == 0 {
		s.never = "not with these numbers, unless the flame is strong"
	}
	return nil
}

// rests is the equilibrium with a coefficient.
func (s torchSum) rests(h float64) unit.Celsius {
	heating := s.Heating
	heating.Flame.H = h
	return heating.Equilibrium()
}

type torchJSON struct {
	Seconds     *float64 `json:"seconds"`
	Equilibrium float64  `json:"equilibrium_c"`
	*torchRange
	Emissivity float64 `json:"emissivity"`
	H          float64 `json:"h"`
	Faces      int     `json:"faces"`
	Biot       float64 `json:"biot"`
	Flame      float64 `json:"flame_c"`
	Room       float64 `json:"room_c"`
	Warning    string  `json:"warning,omitempty"`
}

// torchRange is from the strong end to the weak one; null is never.
type torchRange struct {
	SecondsLow      *float64 `json:"seconds_low"`
	SecondsHigh     *float64 `json:"seconds_high"`
	EquilibriumLow  float64  `json:"equilibrium_low_c"`
	EquilibriumHigh float64  `json:"equilibrium_high_c"`
	HLow            float64  `json:"h_low"`
	HHigh           float64  `json:"h_high"`
}

func (s torchSum) json() torchJSON {
	j := torchJSON{Seconds: secondsOrNever(s.likely), Equilibrium: figure(float64(s.Equilibrium())), Emissivity: figure(s.Value),
		H: figure(s.torch.H), Faces: s.Flame.Faces, Biot: figure(s.Heating.Biot(s.to)), Flame: figure(float64(s.Flame.Temp)),
		Room: figure(float64(s.room)), Warning: s.warning()}
	if s.ranged {
		j.torchRange = &torchRange{secondsOrNever(s.low), secondsOrNever(s.high), figure(float64(s.rests(s.torch.Low))),
			figure(float64(s.rests(s.torch.High))), figure(s.torch.Low), figure(s.torch.High)}
	}
	return j
}

func secondsOrNever(d time.Duration) *float64 {
	if d == 0 {
		return nil
	}
	return new(figure(d.Seconds()))
}

func (s torchSum) text() string {
	var b headed
	b.WriteString(wrap("", "  ", s.name))
	b.line("heat", "%s", s.answer())
	b.line("rest", "%s", s.resting())
	if w := s.warning(); w != "" {
		b.line("WARNING", "%s", w)
	}
	settled := s.hotPiece.Even().Settled()
	if settled.Along > 0 {
		b.line("even", "it takes %s to even out along its length", span(settled.Along))
	}
	b.line("biot", "%.2g; below 0.1 one temperature holds for its thickness", s.Heating.Biot(s.to))
	b.line("values", "%s, %s", s.values(), s.flameText())
	return b.String() + s.hotPiece.from
}

// answer is how long it takes, in words.
func (s torchSum) answer() string {
	way := fmt.Sprintf("from %v to %v", s.from, s.to)
	switch {
	case s.never != "" && s.low == 0:
		return fmt.Sprintf("%s: %s it never comes%s", s.never, way, s.remedy())
	case s.never != "":
		return fmt.Sprintf("%s: at best %s %s%s", s.never, span(s.low), way, s.remedy())
	case s.ranged && s.high == 0:
		return fmt.Sprintf("%s %s, %s with a strong flame, never with a weak one", span(s.likely), way, span(s.low))
	case s.ranged:
		return fmt.Sprintf("%s %s (%s to %s)", span(s.likely), way, span(s.low), span(s.high))
	}
	return span(s.likely) + " " + way
}

// warning is that what is wanted is too hot for the metal, and that it melts if it
// is left in the flame.
func (s torchSum) warning() string {
	return strings.Join(slices.DeleteFunc([]string{s.tooHot(), s.leftIn()}, func(w string) bool { return w == "" }), "; ")
}

func (s torchSum) tooHot() string {
	if text := s.melts(s.to); text != "" {
		return text
	}
	if c, ok := s.ceiling(); ok && s.to >= c.Temp {
		return fmt.Sprintf("%v is at the ceiling of %.0f °C or over it: %s", s.to, float64(c.Temp), c.Because)
	}
	return ""
}

// leftIn looks at the strong end too: nobody knows which torch it is.
func (s torchSum) leftIn() string {
	c, ok := s.ceiling()
	rest, strong := s.Equilibrium(), s.rests(s.torch.High)
	switch {
	case ok && rest >= c.Solidus:
		return fmt.Sprintf("left in the flame it melts: it comes to rest at %.0f °C, and melts from %.0f °C", float64(rest), float64(c.Solidus))
	case ok && strong >= c.Solidus:
		return fmt.Sprintf("left in a strong flame it melts: it comes to rest at %.0f °C, and melts from %.0f °C", float64(strong), float64(c.Solidus))
	}
	return ""
}

func (s torchSum) remedy() string {
	if s.to >= s.Flame.Temp {
		return "; no piece gets as hot as the flame about it: take a hotter one"
	}
	if s.Flame.Faces == 2 || s.Flame.Brick {
		return "; take a hotter or stronger flame, or a clean surface"
	}
	return "; put hot brick behind it (--brick), or take a hotter or stronger flame"
}

func (s torchSum) resting() string {
	if !s.ranged {
		return fmt.Sprintf("it comes to rest at %.0f °C", float64(s.Equilibrium()))
	}
	return fmt.Sprintf("it comes to rest at %.0f °C (%.0f to %.0f)", float64(s.Equilibrium()), float64(s.rests(s.torch.Low)), float64(s.rests(s.torch.High)))
}

// flameText says which flame was computed with, and where its figures come from.
func (s torchSum) flameText() string {
	text := fmt.Sprintf("flame %v on %d of 2 faces", s.Flame.Temp, s.Flame.Faces)
	if s.Flame.Brick {
		text += ", hot brick behind"
	}
	if s.Flame.Temp == heat.BenchFlame {
		text += " (bench propane or butane and air, a craft page's figure)"
	}
	if s.ranged {
		return text + fmt.Sprintf(", h %.0f to %.0f W/m²K (from memory; no hand torch was measured; give your own with --h)", s.torch.Low, s.torch.High)
	}
	return text + fmt.Sprintf(", h %.4g W/m²K (your own)", s.torch.H)
}
