package main

import (
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"

	"github.com/spf13/cobra"

	"dullred/schedule"
	swap "dullred/schedule/exchange"
	"dullred/schedule/record"
)

// importFlags is what import was given.
type importFlags struct {
	sheet, piece string
	dry          bool
}

func (a *app) importCommand() *cobra.Command {
	var f importFlags
	cmd := &cobra.Command{
		Use:   "import [FILE]",
		Short: "take up what another bench exported, or passes of a spreadsheet: all or nothing",
		Long: `Reads a file that dullred export wrote, checks every line of it first, and then adds
the entries that are not here yet, all at once. Importing it again adds nothing. An
entry that is here with other content is refused, and nothing is added.

A name that is taken here gets a number: spoon comes in as "spoon 2". A hand that was
forgotten here stays so. Entries of a newer dullred are kept as they are.

With --csv it logs passes of a spreadsheet for one piece instead. The first row names the
columns date, process, count, size, ring, zone and tool, in any order; all but date may
be missing or empty, and other columns are left out. Columns are parted by commas, or by
semicolons, and then a decimal comma may stand in the figures. A date without a time is
noon. One bad row refuses all; --dry-run goes through them row by row.`,
		Example: `  dullred import evening.jsonl --dry-run
  dullred import evening.jsonl
  dullred import --csv passes.csv --piece spoon --dry-run`,
		Args: perhaps("FILE"),
		RunE: func(_ *cobra.Command, args []string) error { return a.importAny(f, args) },
	}
	cmd.Flags().StringVar(&f.sheet, "csv", "", "log the passes in this `FILE` of a spreadsheet")
	cmd.Flags().StringVar(&f.piece, "piece", "", "with --csv: the `NAME` of the piece they are of")
	cmd.Flags().BoolVar(&f.dry, "dry-run", false, "only say what it would do")
	return cmd
}

func (a *app) importAny(f importFlags, args []string) error {
	switch {
	case f.sheet != "" && len(args) == 0:
		return a.importSheet(f.sheet, f.piece, f.dry)
	case f.sheet != "" || len(args) == 0:
		return refuse("see dullred import --help", "import takes one file: an export, or a spreadsheet with --csv")
	case f.piece != "":
		return refuse("leave it away, or see dullred import --help", "--piece goes with --csv; an export names its pieces itself")
	}
	in, err := readExport(args[0])
	if err != nil {
		return err
	}
	return a.join(joining{
		head: "import", from: args[0], dry: f.dry,
		side:  swap.Side{Labels: in.Labels, Rows: swap.RowsOf(in.Rows)},
		place: func(index int) string { return fmt.Sprintf("line %d: ", in.LineOf(index)) },
	})
}

// readExport reads a file whole before anything is done with it.
func readExport(path string) (*swap.Export, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, noFile(path, err)
	}
	defer file.Close()
	in, err := swap.Read(file)
	switch {
	case err == nil:
		return in, nil
	case errors.Is(err, swap.ErrNewer):
		return nil, refuse("import it with a newer dullred", "%.200q: %w", path, err)
	}
	if _, ok := errors.AsType[*swap.LineError](err); ok {
		return nil, refuse("export it again where it came from", "%.200q: %w", path, err)
	}
	return nil, noFile(path, err)
}

// joining is what is to come into the record.
type joining struct {
	head  string // the command
	from  string // the file, as it was named
	dry   bool
	side  swap.Side
	place func(index int) string // of a row in the file; "" where rows have none
}

// join adds what the record lacks in one transaction, and says what that was.
func (a *app) join(j joining) error {
	path, err := a.path()
	if err != nil {
		return err
	}
	if _, err := os.Stat(path); j.dry && errors.Is(err, fs.ErrNotExist) {
		plan, err := j.plan(swap.Side{Rows: swap.RowsOf(nil)})
		if err != nil {
			return err
		}
		return a.joined(j, plan)
	}
	r, err := openRecord(path)
	if err != nil {
		return err
	}
	plan, err := j.into(r)
	if err := errors.Join(err, r.Close()); err != nil {
		return err
	}
	return a.joined(j, plan)
}

func (j joining) into(r *record.Record) (*swap.Plan, error) {
	side, err := sideOf(r)
	if err != nil {
		return nil, err
	}
	plan, err := j.plan(side)
	if err != nil || j.dry {
		return plan, err
	}
	var labels []record.Label
	for _, l := range plan.Labels {
		labels = append(labels, record.Label{ID: l.ID, Class: record.Class(l.Class), Text: l.Text})
	}
	err = r.AppendWith(labels, recordRows(plan.Alerts), recordRows(plan.Rows)...)
	if errors.Is(err, record.ErrNameTaken) {
		return nil, refuse("another dullred gave that name just now: try again", "%w", err)
	}
	return plan, err
}

// plan words what a union refuses.
func (j joining) plan(here swap.Side) (*swap.Plan, error) {
	plan, err := swap.Union(here, j.side)
	if c, ok := errors.AsType[*swap.ConflictError](err); ok {
		return nil, refuse("one of the two was changed by hand: compare them with dullred log --json on both records, and go back to a backup of the one that is wrong",
			"%.200q: %s%w", j.from, j.place(c.Index), err)
	}
	if err != nil && explain(err).Code == exitFailed {
		return nil, refuse("dullred record check names what is damaged", "%.200q: %w", j.from, err)
	}
	return plan, err
}

// sideOf is a record as a union takes it: its labels, and its rows as they are asked for.
func sideOf(r *record.Record) (swap.Side, error) {
	labels, err := labelsOf(r)
	return swap.Side{Labels: labels, Rows: storedRows(r)}, err
}

func storedRows(r *record.Record) iter.Seq2[schedule.Row, error] {
	return func(yield func(schedule.Row, error) bool) {
		for row, err := range r.Stored() {
			if !yield(schedule.Row(row), err) {
				return
			}
		}
	}
}

func recordRows(rows []schedule.Row) []record.Row {
	out := make([]record.Row, len(rows))
	for i, r := range rows {
		out[i] = record.Row(r)
	}
	return out
}

// renamedJSON is a name that comes in and what stands here.
type renamedJSON struct {
	Class string `json:"class"`
	Name  string `json:"name"`
	Here  string `json:"here"`
}

// joinedJSON is what came in, and what is worth a look.
type joinedJSON struct {
	File      string        `json:"file"`
	DryRun    bool          `json:"dry_run"`
	New       int           `json:"new"`
	Known     int           `json:"known"`
	Labels    int           `json:"labels"`
	Raised    int           `json:"alerts_raised_on_both"`
	Renamed   []renamedJSON `json:"renamed"`
	Stayed    []renamedJSON `json:"stayed"`
	Forgotten int           `json:"forgotten"`
	Started   [][]string    `json:"started_twice"` // ids of the entries, by piece
	Finished  [][]string    `json:"finished_twice"`
}

func (a *app) joined(j joining, p *swap.Plan) error {
	done := joinedJSON{File: j.from, DryRun: j.dry, New: len(p.Rows) + len(p.Alerts), Known: p.Known, Labels: len(p.Labels),
		Raised: p.Raised, Renamed: renamed(p.Renamed), Stayed: renamed(p.Stayed), Forgotten: p.Forgotten, Started: [][]string{}, Finished: [][]string{}}
	for _, t := range p.Twice {
		if t.Kind == schedule.KindFinished {
			done.Finished = append(done.Finished, t.IDs)
			continue
		}
		done.Started = append(done.Started, t.IDs)
	}
	return a.answer(done, done.text(j.head))
}

func renamed(all []swap.Renamed) []renamedJSON {
	out := []renamedJSON{}
	for _, r := range all {
		out = append(out, renamedJSON{r.Class, clean(r.Text), clean(r.Here)})
	}
	return out
}

func (d joinedJSON) text(head string) string {
	var h headed
	if d.DryRun {
		head = "dry run"
	}
	h.line(head, "%s", brief(d.File))
	h.line("new", "entries %d, names %d", d.New, d.Labels)
	h.line("known", "entries %d", d.Known)
	for _, r := range d.Renamed {
		h.line("renamed", "the %s %q is %q here", r.Class, brief(r.Name), tailed(r.Here))
	}
	for _, r := range d.Stayed {
		h.line("stays", "the %s %q has the name %q here and keeps it", r.Class, brief(r.Name), tailed(r.Here))
	}
	if d.Forgotten > 0 {
		h.line("stays", "hands that were forgotten here and stay without a name: %d", d.Forgotten)
	}
	if d.Raised > 0 {
		h.line("mind", "alerts that both benches raised or saw: %d; those that are here stay", d.Raised)
	}
	for _, starts := range d.Started {
		h.line("mind", "a piece is started %d times and gets no advice: void all but one with dullred void ID: %s", len(starts), handles(starts))
	}
	for _, ends := range d.Finished {
		h.line("mind", "a piece is finished %d times: void all but one with dullred void ID, so that its record says when: %s", len(ends), handles(ends))
	}
	return h.String()
}

// tailed is a name cut in its middle, so that the number that it got shows.
func tailed(name string) string {
	text := []rune(clean(name))
	if len(text) > 60 {
		return string(text[:48]) + "…" + string(text[len(text)-11:])
	}
	return string(text)
}

// handles are entries as the log names them.
func handles(ids []string) (out string) {
	for i, id := range ids {
		if i > 0 {
			out += ", "
		}
		out += schedule.Entry{ID: schedule.ID(id)}.Handle()
	}
	return out
}
