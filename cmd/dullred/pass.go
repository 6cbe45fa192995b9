package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// passFlags is what pass was given beside the reading.
type passFlags struct {
	process, ring, radius, turns, over, tool string
	count                                    int
	hot                                      bool // hammered hot, on purpose
}

func (a *app) passCommand() *cobra.Command {
	var t act
	var p passFlags
	cmd := &cobra.Command{
		Use:   "pass NAME [6.4x7.2]",
		Short: "log a course of work, with the calliper's reading or without",
		Long: `Log one course (or --count of them). With a reading the strain is reckoned from
it; without one it is estimated until the next reading corrects it. Keep the
order of the two sides: the first figure is always the same side.`,
		Example: `  dullred pass spoon 7.2x7.8
  dullred pass spoon --count 2 --process widen
  dullred pass bowl --ring 141 --process raise
  dullred pass band --process bend --radius 30 --zone middle
  dullred pass rod --process twist --turns 5 --over 100`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return refuse("dullred pass NAME 6.4x7.2", "a pass needs the name of a piece")
			}
			t.name = args[0]
			return a.pass(t, p, strings.Join(args[1:], " "))
		},
	}
	t.flags(cmd)
	f := cmd.Flags()
	f.StringVar(&p.process, "process", "", "one of lengthen, widen, flatten, roll, draw, bend, twist, stamp, sink, raise, planish, caulk (default: as the course before)")
	f.StringVar(&p.ring, "ring", "", "`DIAMETER` of the rim or ring of a vessel after the course")
	f.StringVar(&p.radius, "radius", "", "of a bend: inside `RADIUS` of the former")
	f.StringVar(&p.turns, "turns", "", "of a twist: `NUMBER` of turns")
	f.StringVar(&p.over, "over", "", "of a twist: `LENGTH` the turns go over")
	f.BoolVar(&p.hot, "hot", false, "log it though the piece is hot: it was hammered hot, on purpose")
	f.StringVar(&p.tool, "tool", "", "`NAME` of the hammer, stake or former, for the making record")
	f.IntVar(&p.count, "count", 1, "courses in this entry")
	return cmd
}

func (a *app) pass(t act, p passFlags, reading string) error {
	b, err := a.open()
	if err != nil {
		return err
	}
	err = b.mindHot(t, p, a.now())
	if err == nil {
		t.body, err = b.passBody(t, p, reading)
	}
	if err != nil {
		return errors.Join(err, b.close())
	}
	return errors.Join(a.doOn(b, t), b.close())
}

func (b *bench) passBody(t act, p passFlags, reading string) (schedule.Pass, error) {
	found, err := b.find(t.name)
	if err != nil {
		return schedule.Pass{}, err
	}
	body := schedule.Pass{Count: p.count, Tool: strings.TrimSpace(p.tool)}
	if body.Process, err = coldwork.ParseProcess(cmp.Or(p.process, string(found.state.Usual()))); err != nil {
		return body, refuse("mend --process", "%w", err)
	}
	if body.Reading, err = parseReading(&found.state, reading, p.ring); err != nil {
		return body, err
	}
	if body.Radius, err = optionalLength(p.radius); err != nil {
		return body, refuse("mend --radius", "%w", err)
	}
	if body.Over, err = optionalLength(p.over); err != nil {
		return body, refuse("mend --over", "%w", err)
	}
	if p.turns != "" {
		if body.Turns, err = strconv.ParseFloat(strings.Replace(p.turns, ",", ".", 1), 64); err != nil {
			return body, refuse("mend --turns", "%.60q is not a number of turns", p.turns)
		}
	}
	return body, nil
}

// mindHot refuses a course on metal that was hot at the time and not meant to be.
func (b *bench) mindHot(t act, p passFlags, now time.Time) error {
	at, err := parseWhen(t.at, now)
	if p.hot || err != nil {
		return err
	}
	found, err := b.find(t.name)
	if err != nil {
		return err
	}
	found.until(b, at)
	if zone, hot := hotZone(&found.state, splitNames(t.zones)); hot {
		return refuse("quench it or find it cool first, and log that; or --hot if it was hammered hot on purpose",
			"%s is HOT (%s): a course on hot metal is no cold work", found.name, zone)
	}
	return nil
}

// hotZone is the first zone of some that burns; of none it is of all.
func hotZone(s *schedule.State, zones []string) (string, bool) {
	for _, z := range s.Zones {
		if z.Heat.Phase.Hot() && (len(zones) == 0 || slices.Contains(zones, z.Name)) {
			return z.Name, true
		}
	}
	return "", false
}

// parseReading reads a section as typed, a ring diameter, or both. A single
// number is of the shape the piece already has.
func parseReading(s *schedule.State, text, ring string) (schedule.Reading, error) {
	var r schedule.Reading
	var err error
	if strings.TrimSpace(text) != "" {
		like := unit.Unshaped
		for _, z := range s.Zones {
			like = z.Tally.Section().Shape
		}
		if r.Size, err = unit.ParseSize(text, like); err != nil {
			return r, refuse("measure again, or log the course without a reading", "%w", err)
		}
	}
	if r.Ring, err = optionalLength(ring); err != nil {
		return r, refuse("mend --ring", "%w", err)
	}
	return r, nil
}

// measureLike makes the two commands that take a reading and no work.
func (a *app) measureLike(use, short string, body func(schedule.Reading) schedule.Body) *cobra.Command {
	var t act
	var ring string
	cmd := &cobra.Command{
		Use:   use + " NAME 6.4x7.2",
		Short: short,
		Args:  cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 || len(args) == 1 && ring == "" {
				return refuse(fmt.Sprintf("dullred %s NAME 6.4x7.2", use), "%s needs a piece and a reading", use)
			}
			t.name = args[0]
			return a.readOnly(t, strings.Join(args[1:], " "), ring, body)
		},
	}
	t.flags(cmd)
	cmd.Flags().StringVar(&ring, "ring", "", "`DIAMETER` of the rim or ring of a vessel")
	return cmd
}

func (a *app) readOnly(t act, text, ring string, body func(schedule.Reading) schedule.Body) error {
	b, err := a.open()
	if err != nil {
		return err
	}
	p, err := b.find(t.name)
	if err != nil {
		return errors.Join(err, b.close())
	}
	r, err := parseReading(&p.state, text, ring)
	if err != nil {
		return errors.Join(err, b.close())
	}
	t.body = body(r)
	return errors.Join(a.doOn(b, t), b.close())
}

func (a *app) measureCommand() *cobra.Command {
	return a.measureLike("measure", "log a reading without work", func(r schedule.Reading) schedule.Body {
		return schedule.Measured{Reading: r}
	})
}

func (a *app) filedCommand() *cobra.Command {
	return a.measureLike("filed", "log metal filed, scraped or trimmed off: a new section, no strain", func(r schedule.Reading) schedule.Body {
		return schedule.Filed{Reading: r}
	})
}
