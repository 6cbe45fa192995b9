package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/record"
)

func (a *app) recordCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "record",
		Short: "check the record, or back it up",
		Args:  noSuchCommand,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(a.recordCheckCommand(), a.recordBackupCommand())
	return cmd
}

func (a *app) recordCheckCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "check",
		Short: "read every entry and say whether the record is sound",
		Args:  names(),
		RunE: func(*cobra.Command, []string) error {
			r, err := a.existing()
			if err != nil {
				return err
			}
			return errors.Join(a.checkRecord(r), r.Close())
		},
	}
}

func (a *app) recordBackupCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "backup FILE",
		Short: "write a copy of the record to a new file, also while others log",
		Long: `Write a copy of the record, as it stands at this moment, to a new file. A file
that is there is never overwritten. To go on from a backup, name it with --record.`,
		Example: "  dullred record backup /media/stick/record-2026-03-05.db",
		Args:    names("FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			r, err := a.existing()
			if err != nil {
				return err
			}
			return errors.Join(a.backUp(r, args[0]), r.Close())
		},
	}
}

// existing opens the record and makes none: an empty one would be sound, and
// its backup worth nothing.
func (a *app) existing() (*record.Record, error) {
	path, err := a.path()
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, &fault{Err: fmt.Errorf("there is no record at %s", path), Code: exitRecord, Kept: "none was made",
			Do: "name the file with --record"}
	}
	return openRecord(path)
}

// soundJSON is a sound record for a machine.
type soundJSON struct {
	Record  string `json:"record"`
	Entries int    `json:"entries"`
	Pieces  int    `json:"pieces"`
	Labels  int    `json:"labels"`
	Unread  int    `json:"unread"` // entries of kinds to come

	Sharing *sharingJSON `json:"sharing,omitempty"` // where a carrier ever was
}

// sharingJSON is how the record is shared: one of the times is there.
type sharingJSON struct {
	Shared     time.Time `json:"shared,omitzero"`      // when nothing was left to be carried
	AloneSince time.Time `json:"alone_since,omitzero"` // if the bench is by itself
}

func (a *app) checkRecord(r *record.Record) error {
	report, err := r.Check()
	if err != nil {
		return keeping("nothing was changed", err)
	}
	unread, err := checkBodies(r)
	if err != nil {
		return keeping("nothing was changed", err)
	}
	if a.json {
		return a.printJSON(soundJSON{r.Path(), report.Entries, report.Pieces, report.Labels, unread, sharingOf(r.Path())})
	}
	a.printf("sound   entries %d, pieces %d, labels %d\n", report.Entries, report.Pieces, report.Labels)
	a.printf("record  %s\n", clean(r.Path()))
	if unread > 0 {
		a.printf("%s", wrap("mind    ", "        ", fmt.Sprintf("entries of a newer dullred: %d; their pieces get no advice from this one", unread)))
	}
	return nil
}

// sharingOf is what the carrier beside a record left; nil where there is nothing.
func sharingOf(record string) *sharingJSON {
	left, _ := beaconAt(record)
	if left.Shared.IsZero() == left.AloneSince.IsZero() {
		return nil
	}
	return &sharingJSON{left.Shared, left.AloneSince}
}

// checkBodies decodes every entry, counts those of kinds to come, and gives a
// fault with the first that is damaged.
func checkBodies(r *record.Record) (unread int, err error) {
	var first error
	damaged := 0
	for row, err := range r.Stored() {
		if err != nil {
			return 0, err
		}
		e, err := schedule.Decode(schedule.Row(row))
		if _, unknown := e.Body.(schedule.Unknown); unknown {
			unread++
		}
		if err != nil && damaged == 0 {
			first = err
		}
		if err != nil {
			damaged++
		}
	}
	if damaged > 0 {
		return 0, &fault{Err: fmt.Errorf("entries that are damaged: %d, the first: %w", damaged, first), Code: exitRecord,
			Do: "void each with dullred void ID, or go back to a backup with --record"}
	}
	return unread, nil
}

func (a *app) backUp(r *record.Record, path string) error {
	if err := r.Backup(path); err != nil {
		return keeping("the record is as it was", explainCopy(err))
	}
	if a.json {
		return a.printJSON(map[string]string{"record": r.Path(), "backup": path})
	}
	a.printf("from    %s\ncopied  %s\n", clean(r.Path()), clean(path))
	a.printf("next    to go on from the copy: dullred --record %s\n", clean(path))
	return nil
}

// explainCopy says what to do where the trouble is with a file that is written of the
// record.
func explainCopy(err error) error {
	switch {
	case errors.Is(err, fs.ErrExist):
		return refuse("name a new file", "%w", err)
	case errors.Is(err, fs.ErrNotExist):
		return refuse("name a file in a folder that is there", "%w", err)
	case errors.Is(err, record.ErrFull), errors.Is(err, record.ErrReadOnly), explain(err).Do == "":
		return &fault{Err: err, Code: exitRecord, Do: "name a place with room that you may write to"}
	}
	return err
}

// keeping says what was kept where nothing was to be recorded.
func keeping(kept string, err error) error {
	f := *explain(err)
	f.Kept = kept
	return &f
}
