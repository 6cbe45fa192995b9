package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"dullred/schedule"
	"dullred/schedule/class"
	"dullred/schedule/newfile"
	"dullred/schedule/picture"
	"dullred/schedule/trial"
)

// pictureFlags is what picture was given.
type pictureFlags struct {
	of, format, into, on string
	class, trial, ascii  bool
}

// pictured are the pictures of a piece by name.
var pictured = map[string]func(picture.Story) picture.Figure{"limit": picture.Story.Strain, "hardness": picture.Story.Hardness,
	"heat": picture.Story.Heat, "shape": picture.Story.Shape}

func (a *app) pictureCommand() *cobra.Command {
	var f pictureFlags
	cmd := &cobra.Command{
		Use:   "picture NAME",
		Short: "pictures of the making of a piece, in the terminal or as SVG and PNG",
		Long: `A picture of the making of a piece, with a sentence that says what it shows in figures:

  limit     the strain since soft of each zone and its limit, against the courses
  hardness  the published hardness over the work, and how far the piece went along it
  heat      what a thermocouple read, with the ceiling and where the glow begins
  shape     its side at the start and now, to scale where the length is known

--class shows the share of the limit at which each hand annealed in a lesson, --trial
the simulated shop of dullred trial. Lines are told apart by dashes and markers, so that
a picture reads in grey print. What is not known is not drawn, and the picture says so.`,
		Example: `  dullred picture spoon
  dullred picture spoon --of hardness --format svg > hardness.svg
  dullred picture spoon --of shape --format png --into pictures    (spoon-shape.png)
  dullred picture --class --on 2024-03-05`,
		Args: perhaps("NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			figure, err := a.figureOf(f, args, cmd.Flags().Changed("of"))
			if err != nil {
				return err
			}
			return a.draw(figure, f)
		},
	}
	cmd.Flags().StringVar(&f.of, "of", "limit", "`WHAT` of the piece: limit, hardness, heat or shape")
	cmd.Flags().StringVar(&f.format, "format", "text", "`FORMAT`: text for the terminal, svg or png")
	cmd.Flags().StringVar(&f.into, "into", "", "write a file that is not there yet into this `FOLDER`")
	cmd.Flags().BoolVar(&f.class, "class", false, "of a lesson: when each hand annealed")
	cmd.Flags().StringVar(&f.on, "on", "", "the lesson of this `DATE`, as 2006-01-02 (default: the latest)")
	cmd.Flags().BoolVar(&f.trial, "trial", false, "of the simulated shop")
	cmd.Flags().BoolVar(&f.ascii, "ascii", false, "plain letters only, for a terminal without UTF-8")
	return cmd
}

// drawn is a figure with the name of its file, without an ending.
type drawn struct {
	picture.Figure
	file string
}

// figureOf makes the figure that was asked for.
func (a *app) figureOf(f pictureFlags, args []string, of bool) (drawn, error) {
	if err := f.check(args, of); err != nil {
		return drawn{}, err
	}
	if f.trial {
		return drawn{picture.Trial(trial.Run(trial.Usual())), "trial"}, nil
	}
	var out drawn
	err := a.onBench(func(b *bench) (err error) {
		if f.class {
			out, err = a.classFigure(b, f.on)
		} else {
			out, err = b.pieceFigure(args[0], f.of)
		}
		return err
	})
	return out, err
}

// check refuses what does not go together.
func (f pictureFlags) check(args []string, of bool) error {
	switch {
	case !slices.Contains([]string{"text", "svg", "png"}, f.format):
		return refuse("mend --format", "%.60q is not a format: expected text, svg or png", f.format)
	case pictured[f.of] == nil:
		return refuse("mend --of", "%.60q is not a picture: expected limit, hardness, heat or shape", f.of)
	case f.class && f.trial:
		return refuse("give one of the two", "--class and --trial are two pictures")
	case (f.class || f.trial) && (len(args) > 0 || of):
		return refuse("leave out the name and --of", "--class and --trial are of no piece")
	case f.on != "" && !f.class:
		return refuse("give --class with it", "--on is the day of a lesson")
	case !f.class && !f.trial && len(args) == 0:
		return refuse("dullred picture NAME, or --class, or --trial", "no piece is named")
	}
	return nil
}

// pieceFigure is a figure of a piece by name.
func (b *bench) pieceFigure(name, of string) (drawn, error) {
	p, err := b.find(name)
	if err != nil {
		return drawn{}, err
	}
	story := picture.Of(picture.Source{Name: clean(p.name), Book: b.book, Entries: slices.Concat(b.steps, p.entries)})
	return drawn{pictured[of](story), fileStem(p.name) + "-" + of}, nil
}

// classFigure is the figure of the lesson of a day, or of the latest.
func (a *app) classFigure(b *bench, on string) (drawn, error) {
	f := classFlags{on: on}
	span, err := f.span(a.now().Location())
	if err != nil {
		return drawn{}, err
	}
	who, err := b.people()
	if err != nil {
		return drawn{}, err
	}
	shop := class.Shop{Book: b.book, Place: a.now().Location(), Span: span}
	if err := b.fill(&shop); err != nil {
		return drawn{}, err
	}
	lessons := shop.Lessons()
	if len(lessons) == 0 {
		return drawn{}, b.noLesson(shop, f)
	}
	day := lessons[0].Day.Format(dateLayout)
	called := who.callAll(lessons)
	l := picture.Lesson{Title: day, From: shop.Span.From, Until: shop.Span.Until, Called: func(id schedule.ID) string { return called[id] }}
	for _, entries := range shop.Pieces {
		l.Stories = append(l.Stories, picture.Of(picture.Source{Book: b.book, Entries: entries}))
	}
	return drawn{picture.Class(l), "class-" + day}, nil
}

// draw prints a figure or writes it into a folder.
func (a *app) draw(d drawn, f pictureFlags) error {
	if a.json {
		return a.printJSON(d.Figure)
	}
	if f.format == "png" && f.into == "" && isTerminal(a.out) {
		return refuse("give --into FOLDER, or send it on: dullred picture ... --format png > picture.png",
			"a PNG is no text and would put the terminal out of order")
	}
	out, err := a.rendered(d.Figure, f)
	if err != nil {
		return err
	}
	if f.into == "" {
		_, err = a.out.Write(out)
		return err
	}
	path := filepath.Join(f.into, d.file+map[string]string{"text": ".txt", "svg": ".svg", "png": ".png"}[f.format])
	if err := newfile.Write(path, func(w io.Writer) error { _, err := w.Write(out); return err }); err != nil {
		return pictureFault(err)
	}
	a.printf("%s\n", clean(path))
	return nil
}

// rendered is a figure in a format.
func (a *app) rendered(f picture.Figure, flags pictureFlags) ([]byte, error) {
	f.Style = a.inStyle()
	switch flags.format {
	case "svg":
		return picture.SVG(f), nil
	case "png":
		return picture.PNG(f)
	}
	return []byte(picture.Text(f, picture.Terminal{Columns: a.columns(flags), Plain: flags.ascii || !a.utf8()})), nil
}

func pictureFault(err error) error {
	do := "make the folder, or name another with --into"
	if errors.Is(err, fs.ErrExist) {
		do = "move it away, or name another folder with --into"
	}
	return &fault{Err: errors.New(shorten(err.Error())), Code: exitRefused, Kept: "nothing was written", Do: do}
}

// The columns of a picture in the terminal: what a page holds, and as many as are read
// at a glance (a judgement).
const (
	pictureColumns = 78
	pictureMost    = 120
)

// columns is how wide a picture is: the terminal, where it goes to one.
func (a *app) columns(f pictureFlags) int {
	if file, ok := a.out.(*os.File); ok && f.into == "" {
		if wide, _, err := term.GetSize(int(file.Fd())); err == nil && wide > 0 {
			return min(wide, pictureMost)
		}
	}
	return pictureColumns
}

func isTerminal(w io.Writer) bool {
	file, ok := w.(*os.File)
	return ok && term.IsTerminal(int(file.Fd()))
}
