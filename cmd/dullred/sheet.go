package main

import (
	"cmp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/class"
	"dullred/schedule/record"
	"dullred/schedule/sheet"
)

// sheetFlags is what sheet was given.
type sheetFlags struct {
	format, on, into string
	all, force       bool
	pictures         bool
}

func (a *app) sheetCommand() *cobra.Command {
	var f sheetFlags
	cmd := &cobra.Command{
		Use:   "sheet [NAME...]",
		Short: "the making record of pieces: sizes, heats, cracks, joints, advice, hands",
		Long: `The making record of a piece: its metal and mark; the size, the strain and the share
of the limit after every pass; every heat and how it was proved; cracks, joints, signs
and notes; what was advised and whether it was followed; who was at it and when. What
was taken back does not stand in it. Figures and dates are as the settings say; CSV and
JSON have mm, °C and g.

The share of the limit is by the tables of today; what was shown at the time stands
under the advice.

Several pieces come one after the other: in one page or PDF each from a new page on, as
JSON in one list. --pictures puts the strain against its limit and the shape before and
after on a page, which then may be longer than two. --into writes a file for each, named after its piece with what a file
name cannot hold left out; a file that is there stays, unless --force writes it anew. A
spreadsheet holds one piece.`,
		Example: `  dullred sheet spoon
  dullred sheet spoon --format pdf > spoon.pdf      (to print)
  dullred sheet spoon --format html --pictures > spoon.html
  dullred sheet --on 2024-03-05 --format pdf --into lesson
  dullred sheet spoon-1 spoon-2 --format html > spoons.html`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if a.json && !cmd.Flags().Changed("format") {
				f.format = "json"
			}
			return a.sheet(args, f)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.format, "format", "text", "`FORMAT`: text, html or pdf to print, csv for a spreadsheet, json (as --json)")
	flags.StringVar(&f.on, "on", "", "every piece that was worked on at this `DATE`, as 2006-01-02: a lesson")
	flags.BoolVar(&f.pictures, "pictures", false, "with --format html: pictures of the work")
	flags.BoolVar(&f.all, "all", false, "every piece")
	flags.StringVar(&f.into, "into", "", "a file for each piece, in this `FOLDER`, which is made")
	flags.BoolVar(&f.force, "force", false, "with --into: write files anew that are there")
	return cmd
}

func (a *app) sheet(names []string, f sheetFlags) error {
	if err := a.checkSheet(names, f); err != nil {
		return err
	}
	return a.onBench(func(b *bench) error {
		pieces, err := a.sheetPieces(b, names, f)
		if err != nil {
			return err
		}
		made, err := a.sheetsOf(b, pieces)
		if err != nil {
			return err
		}
		if f.pictures {
			for i, p := range pieces {
				made[i].Pictures = b.inPage(p, i+1, made[i].Style)
			}
		}
		if f.into != "" {
			return a.sheetsInto(made, f)
		}
		return a.sheetsOut(made, f, len(names) == 1)
	})
}

// checkSheet refuses what does not go together, before the record is opened.
func (a *app) checkSheet(names []string, f sheetFlags) error {
	ways := len(slices.DeleteFunc([]bool{len(names) > 0, f.on != "", f.all}, func(given bool) bool { return !given }))
	switch {
	case sheetFormats[f.format] == nil:
		return refuse("mend --format", "%.60q is not a format: expected text, html, pdf, csv or json", f.format)
	case a.json && f.format != "json":
		return refuse("give one of the two", "--json and --format %.60q are two formats", f.format)
	case ways == 0:
		return refuse("name a piece, or give --on or --all", "no piece is named")
	case ways > 1:
		return refuse("give NAMEs, or --on, or --all", "the pieces are named in two ways")
	case f.pictures && f.format != "html":
		return refuse("give --format html, or draw them with dullred picture", "pictures go with a page, and %.60q is none", f.format)
	case f.force && f.into == "":
		return refuse("name the folder with --into", "--force is about files in a folder")
	case f.into == "" && f.format == "pdf" && isTerminal(a.out):
		return refuse("name a file: dullred sheet spoon --format pdf > spoon.pdf, or --into DIR", "a PDF is not for a terminal")
	}
	return nil
}

// sheetPieces are the pieces that were asked for; those that nobody named are by name.
func (a *app) sheetPieces(b *bench, names []string, f sheetFlags) (pieces []*piece, err error) {
	var span *class.Span
	if f.on != "" {
		day, err := dayNamed(f.on, a.now().Location())
		if err != nil {
			return nil, err
		}
		span = &day
	}
	if len(names) > 0 {
		return b.sheetNamed(names)
	}
	labels, err := b.rec.Labels(record.PieceClass)
	if err != nil {
		return nil, err
	}
	for _, l := range labels {
		rows, err := b.rec.Piece(l.ID)
		if err != nil {
			return nil, err
		}
		p := &piece{id: schedule.ID(l.ID), name: l.Text, entries: entriesOf(rows)}
		b.heard(p.name, p.entries)
		if span == nil || workedIn(p.entries, *span) {
			pieces = append(pieces, p)
		}
	}
	if len(pieces) == 0 && span != nil {
		return nil, missing("dullred class tells which day was the latest lesson", "no piece was worked on at %.20s", f.on)
	}
	if len(pieces) == 0 {
		return nil, missing("begin one with dullred piece new", "there is no piece yet")
	}
	slices.SortFunc(pieces, func(x, y *piece) int { return cmp.Or(strings.Compare(x.name, y.name), cmp.Compare(x.id, y.id)) })
	return pieces, nil
}

// sheetNamed are pieces by name, each once.
func (b *bench) sheetNamed(names []string) (pieces []*piece, err error) {
	for _, name := range names {
		p, err := b.find(name)
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(pieces, func(q *piece) bool { return q.id == p.id }) {
			pieces = append(pieces, p)
		}
	}
	return pieces, nil
}

// workedIn reports whether somebody was at a piece in a span: an entry stands that is
// neither advice nor an alert.
func workedIn(entries []schedule.Entry, span class.Span) bool {
	dead := schedule.Voided(entries)
	return slices.ContainsFunc(entries, func(e schedule.Entry) bool {
		switch e.Kind() {
		case schedule.KindVoid, schedule.KindShown, schedule.KindRaised, schedule.KindAcknowledged:
			return false
		}
		return !dead[e.ID] && !e.At.Before(span.From) && e.At.Before(span.Until)
	})
}

func (a *app) sheetsOf(b *bench, pieces []*piece) (all []sheet.Sheet, err error) {
	labels, err := b.labels()
	if err != nil {
		return nil, err
	}
	for _, p := range pieces {
		all = append(all, sheet.Build(sheet.Source{Name: p.name, Book: b.book, Entries: slices.Concat(b.steps, p.entries),
			Hands: labels, Place: a.now().Location()}))
	}
	for i := range all {
		all[i].Style = a.inStyle()
	}
	return all, nil
}
