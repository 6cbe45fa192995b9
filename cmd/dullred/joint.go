package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// jointFlags is what joint was given.
type jointFlags struct {
	solder, solidus, flow string
	margin                float64 // K
	ownMargin             bool    // it was given
}

// jointOnly are the flags that say something of a joint, and nothing of a list.
var jointOnly = []string{"solder", "solidus", "flow", "margin", "at", "zone"}

func (a *app) jointCommand() *cobra.Command {
	var j jointFlags
	var t act
	cmd := &cobra.Command{
		Use:   "joint NAME [JOINT --solder GRADE]",
		Short: "log a soldered joint, which no later heat may melt, or list the joints of a piece",
		Long: `Log a soldered joint. The heat to give stays below its solidus, the temperature
where it lets go; a flow point never stands in for that. Most grades are sold by
their flow point alone: type the solidus from the maker's sheet with --solidus.
Without a joint it lists those there are, in the order in which they are made.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				return nil
			}
			return names("NAME", "JOINT")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			j.ownMargin = cmd.Flags().Changed("margin")
			if len(args) == 1 && given(cmd, jointOnly) {
				return refuse("dullred joint NAME rim --solder hard --solidus 745C", "a solder, a solidus, a margin and a time go with a joint, and none is named")
			}
			if len(args) == 1 {
				return a.listJoints(args[0])
			}
			return a.joint(t, j, args)
		},
	}
	t.flags(cmd)
	f := cmd.Flags()
	f.StringVar(&j.solder, "solder", "", "`GRADE` or name, as dullred alloys solders lists them")
	f.StringVar(&j.solidus, "solidus", "", "`TEMPERATURE` on the maker's sheet: 680C")
	f.StringVar(&j.flow, "flow", "", "`TEMPERATURE` on the maker's sheet: 710C")
	f.Float64Var(&j.margin, "margin", float64(heat.DefaultMargin), "stay so many °C below the lowest solidus from now on (common practice)")
	return cmd
}

func (a *app) joint(t act, j jointFlags, args []string) error {
	body := schedule.Jointed{Joint: args[1], Solder: j.solder}
	for text, to := range map[*string]*unit.Celsius{&j.solidus: &body.Solidus, &j.flow: &body.Flow} {
		if *text == "" {
			continue
		}
		var err error
		if *to, err = unit.ParseTemperature(*text); err != nil {
			return refuse("mend --solidus or --flow", "%w", err)
		}
	}
	if j.ownMargin {
		if err := heat.CheckMargin(unit.Celsius(j.margin)); err != nil {
			return refuse("mend --margin", "%w", err)
		}
		body.Margin = new(unit.Celsius(j.margin))
	}
	book, err := a.metals()
	if err != nil {
		return err
	}
	if _, err := heat.JointOf(book, body.Solder, body.Solidus, body.Flow); err != nil {
		if strings.Contains(err.Error(), "cadmium") {
			return refuse("use a solder that is known to be free of it", "%w", err)
		}
		return refuse("type the solidus from the maker's sheet: --solidus 680C", "%w", err)
	}
	t.name, t.body = args[0], body
	return a.do(t)
}

// jointsJSON is what is soldered on a piece. Temperatures are in °C.
type jointsJSON struct {
	Joints  []jointJSON `json:"joints"`
	Unsure  []string    `json:"unsure"` // joints of unknown solidus, and why
	Ceiling *float64    `json:"ceiling_c"`
	Because string      `json:"because,omitempty"`
	Below   *float64    `json:"next_flows_below_c"`
}

type jointJSON struct {
	Joint   string  `json:"joint"`
	Solder  string  `json:"solder"`
	Solidus float64 `json:"solidus_c"`
}

// listJoints shows the joints of a piece, the hardest first, and what follows.
func (a *app) listJoints(name string) error {
	b, err := a.open()
	if err != nil {
		return err
	}
	p, err := b.find(name)
	if err := errors.Join(err, b.close()); err != nil {
		return err
	}
	j := jointsJSON{Joints: []jointJSON{}, Unsure: list(p.state.Unsure)}
	for _, o := range heat.InOrder(p.state.Joints) {
		j.Joints = append(j.Joints, jointJSON{o.Name, o.Solder, figure(float64(o.Solidus))})
	}
	for _, z := range p.state.Zones[:min(1, len(p.state.Zones))] {
		if c, ok := p.state.Ceiling(z.Condition); ok {
			j.Ceiling, j.Because = new(figure(float64(c.Temp))), c.Because
		}
	}
	next := ""
	if below, text, ok := heat.NextSolder(p.state.Joints, p.state.SolderMargin()); ok {
		j.Below, next = new(figure(float64(below))), text
	}
	if a.json {
		return a.printJSON(j)
	}
	a.printf("%s", j.text(next))
	return nil
}

func (j jointsJSON) text(next string) string {
	var b strings.Builder
	if len(j.Joints)+len(j.Unsure) == 0 {
		b.WriteString("no joint is logged\n")
	}
	for _, o := range j.Joints {
		b.WriteString(workedLine(fmt.Sprintf("%g °C", o.Solidus), o.Joint+", "+o.Solder))
	}
	for _, text := range j.Unsure {
		b.WriteString(workedLine("unknown", text))
	}
	if j.Ceiling != nil {
		b.WriteString(workedLine("ceiling", fmt.Sprintf("%g °C: %s", *j.Ceiling, j.Because)))
	}
	if next != "" {
		b.WriteString(workedLine("next", next))
	}
	return b.String()
}
