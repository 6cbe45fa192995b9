package main

import (
	"fmt"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// coolFlags is what the sum of a cooling was given.
type coolFlags struct {
	hotFlags
	from, to, light string
}

// coolNames are the flags that turn the command into the sum.
var coolNames = append([]string{"from", "to", "light"}, hotNames...)

// orCoolSum makes a command that logs a cooling reckon one if it is given the flags.
func (a *app) orCoolSum(cmd *cobra.Command) *cobra.Command {
	var c coolFlags
	c.add(cmd)
	f := cmd.Flags()
	f.StringVar(&c.from, "from", "", "sum: `TEMPERATURE` out of the flame")
	f.StringVar(&c.to, "to", strconv.Itoa(int(heat.SafeTouch)), "sum: `TEMPERATURE` to cool to")
	f.StringVar(&c.light, "light", string(heat.LightDim), "sum: dark, dim, lamp or daylight")
	log := cmd.RunE
	cmd.Use = "cool NAME | cool --alloy copper --size 2x30 --surface oxidised --from 650"
	cmd.Short = "log that the piece is cool enough to touch, or reckon how long it cools"
	cmd.Long = cmd.Short + `.

Black is when no glow is seen any more in the light that is named; it burns all the
same. In JSON black_at_seconds is null where no glow is seen at --from in that light,
though it may glow in a darker one, and where none of it ever goes.`
	cmd.Args = perhaps("NAME")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		switch {
		case !given(cmd, coolNames):
			if err := names("NAME")(cmd, args); err != nil {
				return err
			}
			return log(cmd, args)
		case len(args) > 0 || given(cmd, []string{"at", "zone"}):
			return refuse("dullred cool NAME logs, dullred cool --alloy ... reckons", "cool either logs a piece or reckons a sum, not both")
		}
		return a.coolSum(c)
	}
	return cmd
}

// coolSum is a cooling that was read.
type coolSum struct {
	hotPiece
	heat.Cooling
	from, to unit.Celsius
	light    heat.Light
	took     time.Duration
	glows    bool           // seen at from in that light
	black    *time.Duration // until no glow is seen; nil if none was, or it stays
}

func (a *app) coolSum(c coolFlags) error {
	if c.alloy == "" || c.size == "" || c.from == "" {
		return refuse("dullred cool --alloy copper --size 2x30 --length 100 --from 650 --surface oxidised", "the sum needs --alloy, --size and --from")
	}
	book, err := a.metals()
	if err != nil {
		return err
	}
	sum, err := c.reckon(book)
	if err != nil {
		return err
	}
	return a.answer(sum.json(), sum.text())
}

func (c coolFlags) reckon(book *alloys.Book) (s coolSum, err error) {
	if s.hotPiece, err = c.parse(book); err != nil {
		return s, err
	}
	if s.from, err = temperature("from", c.from); err != nil {
		return s, err
	}
	if s.to, err = temperature("to", c.to); err != nil {
		return s, err
	}
	if s.light, err = heat.ParseLight(c.light); err != nil {
		return s, refuse("mend --light", "%w", err)
	}
	s.Cooling = heat.Cooling{Body: s.hotPiece.Body, Emissivity: s.Value, Room: s.room}
	if s.took, err = s.Time(s.from, s.to); err != nil {
		return s, refuse("mend --from, --to or --room", "%w", err)
	}
	seen, _ := heat.Eye{Light: s.light, Emissivity: s.Value}.FirstSeen()
	if s.glows = s.from > seen; s.glows {
		if d, err := s.Time(s.from, seen); err == nil {
			s.black = &d
		}
	}
	return s, nil
}

type coolJSON struct {
	Seconds    float64  `json:"seconds"`
	Biot       float64  `json:"biot"`
	BlackAt    *float64 `json:"black_at_seconds"`
	Emissivity float64  `json:"emissivity"`
	H          float64  `json:"h"`
	Faces      int      `json:"faces"`
	Room       float64  `json:"room_c"`
	Warning    string   `json:"warning,omitempty"`
}

func (s coolSum) json() coolJSON {
	j := coolJSON{Seconds: figure(s.took.Seconds()), Biot: figure(s.Cooling.Biot(s.from)), Emissivity: figure(s.Value),
		H: figure(s.Coefficient(s.from)), Faces: 2, Room: figure(float64(s.room)), Warning: s.melts(s.from)}
	if s.black != nil {
		j.BlackAt = new(figure(s.black.Seconds()))
	}
	return j
}

func (s coolSum) text() string {
	var b headed
	b.WriteString(wrap("", "  ", s.name))
	b.line("cool", "%s from %v to %v", span(s.took), s.from, s.to)
	b.line("black", "%s", s.blackWords())
	b.line("HOT", "never clears by the clock: find it cool, then dullred cool NAME")
	if w := s.melts(s.from); w != "" {
		b.line("WARNING", "%s", w)
	}
	b.line("biot", "%.2g at the start; below 0.1 one temperature holds for its thickness", s.Cooling.Biot(s.from))
	b.line("values", "%s, still air and radiation through all its skin, together %.3g W/m²K at the start", s.values(), s.Coefficient(s.from))
	return b.String() + s.hotPiece.from
}

// darker says that the dark would show a glow that this light does not.
func (s coolSum) darker() string {
	if seen, _ := (heat.Eye{Light: heat.LightDark, Emissivity: s.Value}).FirstSeen(); s.from > seen {
		return ", though it is in the dark"
	}
	return ""
}

// blackWords is when no glow is seen any more, which is never when it is cool.
func (s coolSum) blackWords() string {
	switch {
	case !s.glows:
		return fmt.Sprintf("at once: at %v no glow is seen in this light (%s)%s; it burns all the same", s.from, s.light, s.darker())
	case s.black == nil:
		return fmt.Sprintf("never in this light (%s): the room keeps it aglow", s.light)
	}
	return fmt.Sprintf("after %s, in this light (%s); from then on nothing tells that it burns", span(*s.black), s.light)
}
