package main

import (
	"errors"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"dullred/schedule/record"
)

func (a *app) mergeCommand() *cobra.Command {
	var dry bool
	cmd := &cobra.Command{
		Use:   "merge OTHER.db",
		Short: "add the entries of another record file to this one",
		Long: `Adds what this record lacks of another, by the ids of the entries, all at once. The
order in which records are merged does not matter, nor how often, nor what their clocks
said. The other file is not changed: a copy of it is read.

An entry that is here with other content is refused, and nothing is added. A piece that
is then started twice is shown. Names go as with dullred import.`,
		Example: "  dullred merge /media/stick/record.db --dry-run\n  dullred merge /media/stick/record.db",
		Args:    names("OTHER.db"),
		RunE:    func(_ *cobra.Command, args []string) error { return a.merge(args[0], dry) },
	}
	cmd.Flags().BoolVar(&dry, "dry-run", false, "only say what it would do")
	return cmd
}

func (a *app) merge(other string, dry bool) error {
	path, err := a.path()
	if err != nil {
		return err
	}
	if same(path, other) {
		return refuse("name another file", "%.200q is this record itself", other)
	}
	r, done, err := record.OpenCopy(other)
	switch {
	case errors.Is(err, record.ErrNotRecord), errors.Is(err, record.ErrDamaged):
		return refuse("name a record, or bring an export in with dullred import", "%w", err)
	case errors.Is(err, record.ErrBusy):
		return refuse("close the other dullred, or merge a copy that dullred record backup made", "%w", err)
	case errors.Is(err, record.ErrNoCopy):
		return &fault{Err: err, Code: exitRecord, Do: "make room in the folder for temporary files, or name another as TMPDIR"}
	case errors.Is(err, fs.ErrNotExist), err != nil && explain(err).Code == exitFailed:
		return noFile(other, err)
	case err != nil:
		return err
	}
	if err := a.mergeFrom(r, other, dry); err != nil {
		return errors.Join(err, done())
	}
	return leftBehind(done())
}

// leftBehind is what to do about the copy of another's record that was read and cannot
// be taken away.
func leftBehind(err error) error {
	if err == nil {
		return nil
	}
	return &fault{Err: err, Code: exitFailed, Kept: "what is said above stands", Do: "take the folder dullred-copy-… away yourself"}
}

func (a *app) mergeFrom(r *record.Record, other string, dry bool) error {
	side, err := sideOf(r)
	if err != nil {
		return err
	}
	return a.join(joining{head: "merge", from: other, dry: dry, side: side, place: func(int) string { return "" }})
}

// same reports whether two paths lead to one file.
func same(a, b string) bool {
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	other, err := os.Stat(b)
	return err == nil && os.SameFile(one, other)
}
