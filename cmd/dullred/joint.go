package main

import (
	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// jointFlags is what joint was given.
type jointFlags struct {
	solder, solidus, flow string
	margin                float64 // K; below 0 is not given
}

func (a *app) jointCommand() *cobra.Command {
	var j jointFlags
	var t act
	cmd := &cobra.Command{
		Use:   "joint NAME JOINT --solder GRADE",
		Short: "log a soldered joint: no heat after it may reach its solidus",
		Long: `Log a soldered joint. The heat to give stays below its solidus, the temperature
where it lets go; a flow point never stands in for that. Most grades are sold by
their flow point alone: type the solidus from the maker's sheet with --solidus.`,
		Args: names("NAME", "JOINT"),
		RunE: func(_ *cobra.Command, args []string) error { return a.joint(t, j, args) },
	}
	t.flags(cmd)
	f := cmd.Flags()
	f.StringVar(&j.solder, "solder", "", "`GRADE` or name, as dullred alloys solders lists them")
	f.StringVar(&j.solidus, "solidus", "", "`TEMPERATURE` on the maker's sheet: 680C")
	f.StringVar(&j.flow, "flow", "", "`TEMPERATURE` on the maker's sheet: 710C")
	f.Float64Var(&j.margin, "margin", -1, "stay so many °C below the lowest solidus from now on (default 50: common practice)")
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
	if j.margin >= 0 {
		body.Margin = new(unit.Celsius(j.margin))
	}
	book, err := a.metals()
	if err != nil {
		return err
	}
	if _, err := heat.JointOf(book, body.Solder, body.Solidus, body.Flow); err != nil {
		return refuse("type the solidus from the maker's sheet: --solidus 680C", "%w", err)
	}
	t.name, t.body = args[0], body
	return a.do(t)
}
