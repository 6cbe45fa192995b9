package main

import (
	"slices"

	"github.com/spf13/cobra"

	"dullred/schedule/sheet"
)

func (a *app) sheetCommand() *cobra.Command {
	var format string
	cmd := &cobra.Command{
		Use:   "sheet NAME",
		Short: "the making record of a piece: sizes, heats, cracks, joints, advice, hands",
		Long: `The making record of a piece: its metal and mark; the size, the strain and the share
of the limit after every pass; every heat and how it was proved; cracks, joints, signs
and notes; what was advised and whether it was followed; who was at it and when. What
was taken back does not stand in it. Lengths are in mm, temperatures in °C.

The share of the limit is by the tables of today; what was shown at the time stands
under the advice.`,
		Example: `  dullred sheet spoon
  dullred sheet spoon --format html > spoon.html    (to print)`,
		Args: names("NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if a.json && !cmd.Flags().Changed("format") {
				format = "json"
			}
			return a.sheet(args[0], format)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "`FORMAT`: text, html to print, csv for a spreadsheet, json (as --json)")
	return cmd
}

func (a *app) sheet(name, format string) error {
	write, err := a.sheetWriter(format)
	if err != nil {
		return err
	}
	return a.onBench(func(b *bench) error {
		p, err := b.find(name)
		if err != nil {
			return err
		}
		labels, err := b.labels()
		if err != nil {
			return err
		}
		out, err := write(sheet.Build(sheet.Source{Name: p.name, Book: b.book, Entries: slices.Concat(b.steps, p.entries),
			Hands: labels, Place: a.now().Location()}))
		if err != nil {
			return err
		}
		_, err = a.out.Write(out)
		return err
	})
}

// sheetWriter is how a sheet is written in a format.
func (a *app) sheetWriter(format string) (func(sheet.Sheet) ([]byte, error), error) {
	if a.json && format != "json" {
		return nil, refuse("give one of the two", "--json and --format %.60q are two formats", format)
	}
	switch format {
	case "text":
		return func(s sheet.Sheet) ([]byte, error) { return []byte(s.Text()), nil }, nil
	case "html":
		return sheet.Sheet.HTML, nil
	case "csv":
		return sheet.Sheet.CSV, nil
	case "json":
		return sheet.Sheet.JSON, nil
	}
	return nil, refuse("mend --format", "%.60q is not a format: expected text, html, csv or json", format)
}
