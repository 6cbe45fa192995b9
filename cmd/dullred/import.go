package main

import (
	"errors"
	"fmt"
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
	j := joining{head: "import", from: args[0], dry: f.dry, place: func(index int) string { return fmt.Sprintf("line %d: ", in.LineOf(index)) }}
	return a.join(j, incoming{in})
}

// incoming is an export that comes into the record. It is in memory.
type incoming struct{ *swap.Export }

func (in incoming) into(r *record.Record, j joining) (*swap.Plan, error) {
	here, err := sideOf(r)
	if err != nil {
		return nil, err
	}
	plan, err := in.plan(here, j)
	if err != nil || j.dry {
		return plan, err
	}
	return plan, j.said(r.AppendWith(recordLabels(plan.Labels), recordRows(plan.Alerts), recordRows(plan.Rows)...))
}

func (in incoming) plan(here swap.Side, j joining) (*swap.Plan, error) {
	plan, err := swap.Union(here, swap.Side{Labels: in.Labels, Rows: swap.RowsOf(in.Rows)})
	return plan, j.worded(err)
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

func (a *app) answerJoined(j joining, p *swap.Plan) error {
	done := joinedJSON{File: j.from, DryRun: j.dry, New: p.New, Known: p.Known, Labels: len(p.Labels),
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
