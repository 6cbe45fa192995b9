package main

import (
	"io"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/cmd/internal/say"
)

// app is one run of the program: where it prints, what time it is, and the
// flags that every command shares.
type app struct {
	out    io.Writer
	now    func() time.Time
	getenv func(string) string

	json   bool
	record string   // path; empty is the usual place
	hand   string   // label of who works
	args   []string // as they were typed
	asked  bool     // advice is for a moment that was given

	own  *alloys.Book // the smith's own alloys, once they are read; nil for none
	conf *config      // the smith's settings, once they are read; nil for not yet

	tongue tongue // once something is printed
	unsaid error  // why something could not be printed
}

const rootHelp = `dullred keeps a record of every pass and heat of a piece of metal, and says how
much of the limit before splitting is spent, how many courses are left, and when
to stop and anneal.

  The bench screen  dullred                             (one key for each act)
  Start a piece     dullred piece new spoon --alloy sterling --size 8x8 --cast
  After a course    dullred pass spoon 7.2x7.8          (or without a reading)
  What now?         dullred advise spoon
  A heat            dullred heat begin spoon, heat reach, heat out, quench
  Bend it a little  dullred proved soft spoon           (or: proved springy)

Exit codes: 0 done; 1 unexpected failure; 2 what was typed cannot be right;
3 no such piece, zone, entry or alloy; 4 the record cannot be read or written.
After 1 to 4 nothing of that command was recorded, unless the sentence says so.

Local codes and licensed practice come first: see dullred safety.`

// bare is the program without its commands.
func (a *app) bare() *cobra.Command {
	var shown screenFlags
	root := &cobra.Command{
		Use:           "dullred",
		Short:         "when to stop and anneal, before the metal splits",
		Long:          rootHelp,
		Args:          noSuchCommand,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE:          func(*cobra.Command, []string) error { return a.screen(shown) },
	}
	root.SetHelpCommand(a.helpCommand())
	root.CompletionOptions.HiddenDefaultCmd = true
	shown.flags(root)
	flags := root.PersistentFlags()
	flags.BoolVar(&a.json, "json", false, "print figures as JSON")
	flags.StringVar(&a.record, "record", "", "record `FILE` (default: dullred/record.db in the XDG data folder)")
	flags.StringVar(&a.hand, "hand", "", "who works, by initials or number (default: $DULLRED_HAND, else \"smith\")")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return refuse("see "+cmd.CommandPath()+" --help", "%s", flagFault(err))
	})
	return root
}

func noSuchCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	near := ""
	if s := cmd.SuggestionsFor(args[0]); len(s) > 0 {
		near = "did you mean " + strings.Join(s, " or ") + "? "
	}
	return refuse(near+"dullred --help lists the commands", "%.60q is not a command", args[0])
}

// names wants exactly the given words behind a command.
func names(words ...string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == len(words) {
			return nil
		}
		expected := strings.Join(append([]string{cmd.CommandPath()}, words...), " ")
		return refuse("see "+cmd.CommandPath()+" --help", "expected %s, got %d words behind it", expected, len(args))
	}
}

// perhaps wants one word behind a command, or none.
func perhaps(word string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) <= 1 {
			return nil
		}
		return refuse("see "+cmd.CommandPath()+" --help", "expected %s [%s], got %d words behind it", cmd.CommandPath(), word, len(args))
	}
}

func (a *app) printJSON(v any) error {
	text, err := say.JSON(v, "  ")
	if err != nil {
		return err
	}
	_, err = a.out.Write(text)
	return err
}

// figure is a number for JSON, without the noise of binary fractions.
func figure(f float64) float64 { return math.Round(f*1e6) / 1e6 }

// flagFault is what is wrong with a flag, without the words of the parser below.
func flagFault(err error) string {
	text, _, _ := strings.Cut(err.Error(), ": strconv.")
	return shorten(text)
}

// shorten cuts the words of a message that nobody would read to the end.
func shorten(s string) string {
	words := strings.Split(s, " ")
	for i, w := range words {
		if r := []rune(w); len(r) > 60 {
			words[i] = string(r[:60]) + "…"
		}
	}
	return strings.Join(words, " ")
}

// clean makes text that somebody typed safe to print.
func clean(s string) string { return say.Clean(s) }

// wrap prints text with a first indent and a hanging one, at most 78 columns
// wide where words allow.
func wrap(first, hang, text string) string {
	var b strings.Builder
	line := first
	for i, word := range strings.Fields(clean(text)) {
		switch {
		case i == 0:
			line += word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > 78:
			b.WriteString(line + "\n")
			line = hang + word
		default:
			line += " " + word
		}
	}
	b.WriteString(line + "\n")
	return b.String()
}
