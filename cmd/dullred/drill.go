package main

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/drill"
	"dullred/tui"
	"dullred/tui/term"
)

// mostSeed is the largest seed that a lesson is given by itself: few digits, which a
// student can write down.
const mostSeed = 9999

// drillFlags is what drill was given.
type drillFlags struct {
	level  int
	seed   uint64
	seeded bool // a seed was given
	levels bool
}

func (a *app) drillCommand() *cobra.Command {
	f := drillFlags{level: 1}
	cmd := &cobra.Command{
		Use:   "drill",
		Short: "a lesson at a simulated bar, on the bench screen: how many courses are left?",
		Long: `A lesson on the bench screen, at a bar that is simulated: strike it with the space
bar, say how many courses are left before it splits, and anneal it by the colour
that you see. The bar has a limit of its own, which the record does not know.
A lesson is kept in a file of lessons beside the record, never in the record.`,
		Example: `  dullred drill
  dullred drill --level 3 --seed 7   (the same lesson whenever it is played)
  dullred drill --levels`,
		Args: names(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			f.seeded = cmd.Flags().Changed("seed")
			if f.levels {
				return a.drillLevels()
			}
			return a.drill(f)
		},
	}
	cmd.Flags().IntVar(&f.level, "level", f.level, "`NUMBER` of the level")
	cmd.Flags().Uint64Var(&f.seed, "seed", 0, "`NUMBER` that the chances come from: the same one gives the same lesson (default: a new one)")
	cmd.Flags().BoolVar(&f.levels, "levels", false, "list the levels")
	return cmd
}

// levelJSON is a level for a machine.
type levelJSON struct {
	Level   int    `json:"level"`
	Title   string `json:"title"`
	Teaches string `json:"teaches"`
}

func (a *app) drillLevels() error {
	var all []levelJSON
	var text strings.Builder
	for _, l := range drill.Levels() {
		all = append(all, levelJSON{l.Number, l.Title, l.Teaches})
		text.WriteString(wrap(fmt.Sprintf("%d  ", l.Number), "   ", l.Title+": "+l.Teaches))
	}
	return a.answer(all, text.String())
}

// drill plays a lesson on the screen, keeps it, and prints what came of it.
func (a *app) drill(f drillFlags) error {
	if !f.seeded {
		f.seed = 1 + rand.Uint64N(mostSeed)
	}
	lesson, err := drill.New(f.level, f.seed)
	if err != nil {
		return refuse("dullred drill --levels lists them", "%w", err)
	}
	if err := term.Check(); err != nil {
		return err
	}
	conf, err := a.config()
	if err != nil {
		return err
	}
	b, err := tui.NewBench(tui.Config{Desk: lessonDesk(), Drill: lesson, Clock: tui.Clock{Wall: a.now, Boot: sinceBoot}, Location: time.Local,
		Light: conf.light, Shade: conf.shadeOf(), Theme: tui.ThemeNamed(conf.look), Style: a.style()})
	if err != nil {
		return err
	}
	shown := tui.Run(b, tui.Channels{})
	if _, signalled := errors.AsType[tui.Signalled](shown); shown != nil && !signalled {
		return shown
	}
	return errors.Join(shown, a.ended(b, lesson))
}

// lessonDesk is a bench in memory with nothing on it.
func lessonDesk() *tui.Memory {
	return &tui.Memory{Bench: schedule.NewID(), Hand: schedule.NewID(), HandName: "student"}
}

// ended keeps a lesson in which something was done, and prints what came of it even
// where it cannot be kept.
func (a *app) ended(b *tui.Bench, lesson *drill.Lesson) error {
	result, begun := b.Drilled()
	if !begun {
		return nil
	}
	kept := a.keepLesson(result)
	if kept != nil {
		kept = keeping("the lesson was not recorded", kept)
	}
	result.Error = figure(result.Error)
	return errors.Join(kept, a.answer(result, strings.Join(tui.ScoreOf(lesson), "\n")+"\n"))
}

// keepLesson writes a lesson into the file of lessons.
func (a *app) keepLesson(result schedule.Drilled) error {
	b, err := a.openLessons()
	if err != nil {
		return err
	}
	now := schedule.Moment(a.now())
	e := schedule.Entry{ID: schedule.NewID(), At: now, Written: now, Bench: b.here.bench, Hand: b.here.hand,
		Piece: schedule.NewID(), Version: 1, Body: result}
	return errors.Join(b.append(nil, e), b.close())
}
