package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/cmd/internal/say"
)

// guide is the first thing to read: one screen of 80 columns and 40 rows.
func guide() string {
	return `dullred says when to stop and anneal, before the metal splits.

First     dullred bench --demo         look at an invented class; x quits
          dullred piece new spoon --alloy sterling --size 8x8
          dullred                      the bench screen: one key for each act

A day at the bench
  1 work   after each course: dullred pass spoon 7.2x7.8 (or without a reading)
  2 stop   when it says ANNEAL: dullred heat begin, heat reach, heat out
  3 cool   dullred quench spoon, or cool; pickle in, pickle out
  4 prove  bend it a little, cold: dullred proved soft spoon. The count is 0
  5 end    dullred piece finish spoon; its making record: dullred sheet spoon

Where what is
  a piece       piece, pass, measure, filed, dressed, weigh, photo, note, crack
  a heat        torch, flux, heat, quench, cool, pickle, bath, proved, joint
  the room      light, noise, sign, bench, watch, probe
  advice        advise (--why: the sum), limit, hand, plan, batch, stock
  sums          worked, glow, soften, torch, cool, mix, alloys
  the record    log, void, ack, totals, sheet, picture, card, class, export,
                import, merge, forget, record (check, backup)
  to learn      drill, trial, safety, help words
  settings      config, completion, manual

Help      dullred COMMAND --help       its words, flags and an example
          dullred help words           the words of the trade, and help planish
          dullred help --all           every command

Files     dullred/record.db            in the XDG data folder, or --record FILE
          dullred/config.toml          and alloys.csv, in the XDG config folder

` + wrap("Exit      ", "          ", say.ExitSentence("dullred")) + `
Local codes and licensed practice come first: see dullred safety.
`
}

// helpCommand is the guide, and help about a command or a word of the trade.
func (a *app) helpCommand() *cobra.Command {
	var all bool
	cmd := &cobra.Command{
		Use:   "help [COMMAND or WORD]",
		Short: "a short guide; help about a command, or a word of the trade",
		Long: `Without a word it is a short guide. With the name of a command it is the help of that
command, with a word of the trade what the word means: dullred help planish.
dullred help words explains them all.`,
		Example: "  dullred help\n  dullred help heat begin\n  dullred help cross peen\n  dullred help words",
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case all:
				cmd.Root().InitDefaultHelpFlag()
				return cmd.Root().Help()
			case len(args) == 0:
				a.printf("%s", guide())
				return nil
			}
			return a.helpOn(cmd.Root(), args)
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "every command in a line")
	return cmd
}

func (a *app) helpOn(root *cobra.Command, args []string) error {
	asked := strings.Join(args, " ")
	word, isWord := tradeWordNamed(asked)
	found, rest, err := root.Find(args)
	switch {
	case err == nil && len(rest) == 0 && found != root:
		found.InitDefaultHelpFlag()
		if err := found.Help(); err != nil || !isWord {
			return err
		}
		a.printf("\n%s", word.text())
	case isWord:
		a.printf("%s", word.text())
	case strings.EqualFold(asked, "words"):
		a.printf("%s", allTradeWords())
	default:
		return refuse(nearestHelp(root, asked)+"dullred help words explains the trade's words, dullred --help lists the commands",
			"%.60q is not a command, nor a word that is explained", asked)
	}
	return nil
}

// nearestHelp asks whether the likest command or word was meant.
func nearestHelp(root *cobra.Command, asked string) string {
	asked = strings.ToLower(asked)
	if len(asked) > 40 {
		return ""
	}
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	for _, w := range tradeWords() {
		names = append(names, w.names()...)
	}
	far := func(name string) int { return letters(asked, name) }
	best := slices.MinFunc(names, func(x, y string) int { return far(x) - far(y) })
	if far(best) > max(1, len([]rune(asked))/3) {
		return ""
	}
	return "did you mean " + best + "? "
}
