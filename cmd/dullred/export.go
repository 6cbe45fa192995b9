package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"

	"github.com/spf13/cobra"

	"dullred/schedule"
	swap "dullred/schedule/exchange"
	"dullred/schedule/newfile"
	"dullred/schedule/record"
)

func (a *app) exportCommand() *cobra.Command {
	var f exportFlags
	cmd := &cobra.Command{
		Use:   "export [FILE]",
		Short: "write entries and names as text that another bench can import",
		Long: `Writes the whole record, or one piece, as JSON lines: a line that says what it is,
the names, the entries, and a count. Every line has a check over the lines before it, so
that an export that was cut or changed is refused by the number of the line. The same
entries give the same text. A file that is there is never overwritten.

With a piece go the names of its hands and benches, and the steps of their clocks.
Photos are only referred to; --photos copies those that are files into a folder.`,
		Example: `  dullred export evening.jsonl
  dullred export --piece spoon spoon.jsonl
  dullred export --piece spoon spoon.jsonl --photos spoon-photos
  dullred export | gzip > evening.jsonl.gz`,
		Args: perhaps("FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			r, err := a.existing()
			if err != nil {
				return err
			}
			return errors.Join(a.export(r, f, args), r.Close())
		},
	}
	cmd.Flags().StringVar(&f.piece, "piece", "", "only the piece with this `NAME`")
	cmd.Flags().StringVar(&f.photos, "photos", "", "copy the photos that are files into this `FOLDER`, beside a FILE")
	return cmd
}

// exportFlags is what export was given.
type exportFlags struct{ piece, photos string }

// exportedJSON is what stands in the file that was written.
type exportedJSON struct {
	File    string  `json:"file"`
	Entries int     `json:"entries"`
	Labels  int     `json:"labels"`
	Copied  *copied `json:"copied,omitempty"`
}

func (a *app) export(r *record.Record, f exportFlags, args []string) error {
	if f.photos != "" && len(args) == 0 {
		return refuse("dullred export FILE --photos FOLDER", "photos go beside a file")
	}
	out, err := gather(r, f.piece)
	if err != nil {
		return keeping("nothing was written", err)
	}
	if len(args) == 0 {
		return keptOut(swap.Write(a.out, out))
	}
	if err := newfile.Write(args[0], func(w io.Writer) error { return keptOut(swap.Write(w, out)) }); err != nil {
		return keeping("the record is as it was", explainCopy(err))
	}
	done := exportedJSON{File: args[0], Entries: len(out.Rows), Labels: len(out.Labels)}
	var h headed
	h.line("exported", "%s", brief(args[0]))
	h.line("holds", "entries %d, names %d", done.Entries, done.Labels)
	if f.photos != "" {
		if done.Copied, err = copyPhotos(f.photos, out.Rows); err != nil {
			return err
		}
		done.Copied.say(&h)
	}
	return a.answer(done, h.String())
}

// keptOut is what to do about an entry that cannot be carried.
func keptOut(err error) error {
	if errors.Is(err, schedule.ErrRow) || errors.Is(err, swap.ErrLabel) {
		return &fault{Err: err, Code: exitRecord, Kept: "nothing was exported",
			Do: "dullred record check names what is damaged; export the sound pieces with --piece, or take a copy with dullred record backup"}
	}
	return err
}

// gather reads what an export holds. The labels are read after the entries, so that
// none of these lacks its name.
func gather(r *record.Record, name string) (out swap.Export, err error) {
	var keep func(swap.Label) bool
	if name == "" {
		out.Rows, err = rowsOf(r)
		keep = func(swap.Label) bool { return true }
	} else {
		out.Rows, keep, err = pieceRows(r, name)
	}
	if err != nil {
		return out, err
	}
	labels, err := labelsOf(r)
	out.Labels = slices.DeleteFunc(labels, func(l swap.Label) bool { return !keep(l) })
	return out, err
}

func rowsOf(r *record.Record) (rows []schedule.Row, err error) {
	for row, err := range r.Stored() {
		if err != nil {
			return nil, err
		}
		rows = append(rows, schedule.Row(row))
	}
	return rows, nil
}

// pieceRows are the entries of a piece and the steps of the clocks that dated them, and
// which labels go with them.
func pieceRows(r *record.Record, name string) ([]schedule.Row, func(swap.Label) bool, error) {
	label, found, err := r.LabelNamed(record.PieceClass, name)
	if err != nil {
		return nil, nil, err
	}
	if !found {
		return nil, nil, missing("dullred piece list shows the names", "there is no piece named %.60q", name)
	}
	own, err := r.Piece(label.ID)
	if err != nil {
		return nil, nil, err
	}
	ids, benches := map[string]bool{label.ID: true}, map[string]bool{}
	for _, row := range own {
		benches[row.Bench] = true
	}
	for bench := range benches {
		steps, err := r.OfKind(bench, string(schedule.KindClockStep))
		if err != nil {
			return nil, nil, err
		}
		own = append(own, steps...)
	}
	var rows []schedule.Row
	for _, row := range own {
		ids[row.Bench], ids[row.Hand] = true, true
		rows = append(rows, schedule.Row(row))
	}
	return rows, func(l swap.Label) bool { return ids[l.ID] }, nil
}

// labelsOf are the labels of all classes, in the order of their ids.
func labelsOf(r labelled) (all []swap.Label, err error) {
	for _, class := range []record.Class{record.PieceClass, record.HandClass, record.BenchClass} {
		labels, err := r.Labels(class)
		if err != nil {
			return nil, err
		}
		for _, l := range labels {
			all = append(all, swap.Label{ID: l.ID, Class: string(l.Class), Text: l.Text})
		}
	}
	slices.SortFunc(all, func(a, b swap.Label) int { return cmp.Compare(a.ID, b.ID) })
	return all, nil
}

// labelled has labels: a record of one's own or another.
type labelled interface {
	Labels(record.Class) ([]record.Label, error)
}

// brief is a name as it is printed: clean, and cut where nobody would read on.
func brief(name string) string {
	text := []rune(clean(name))
	if len(text) > 60 {
		return string(text[:60]) + "…"
	}
	return string(text)
}

// noFile is what to do about a file that cannot be read.
func noFile(path string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return missing("name a file that is there", "there is no file %.200q", path)
	}
	return refuse("name a file that you may read", "%s", shorten(fmt.Sprint(err)))
}
