package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/schedule/record"
)

func (a *app) forgetCommand() *cobra.Command {
	var dry bool
	cmd := &cobra.Command{
		Use:   "forget HAND",
		Short: "forget who a hand is: its entries stay, without the name",
		Long: `Erases the initials or number of a hand from the record and from the lessons of the
drill. Its entries stay under an id that says nothing of anybody, so that no figure of
the class changes; the page of dullred class calls it "unnamed 1". It cannot be taken back.

Not erased are words that somebody typed: notes, marks and names of pieces; nor copies
of the record that were made before.`,
		Args: names("HAND"),
		RunE: func(_ *cobra.Command, args []string) error { return a.forget(args[0], dry) },
	}
	cmd.Flags().BoolVar(&dry, "dry-run", false, "only say what it would do")
	return cmd
}

// forgetJSON is what was erased, and what stays.
type forgetJSON struct {
	Hand    string        `json:"hand"`
	DryRun  bool          `json:"dry_run"`
	Record  forgottenJSON `json:"record"`
	Lessons forgottenJSON `json:"lessons"`
}

// forgottenJSON is one file: whether the name stood in it, what stays of the hand
// there, whether another program had the file open, so that traces of the name may
// stand in its log, and whether some were found in the file itself.
type forgottenJSON struct {
	Named   bool `json:"named"`
	Entries int  `json:"entries"`
	Pieces  int  `json:"pieces"`
	Traces  bool `json:"traces_possible"`
	Found   bool `json:"traces_found"`
}

// forget goes to the lessons first: should the record then fail, the name still
// finds it.
func (a *app) forget(name string, dry bool) error {
	done := forgetJSON{Hand: name, DryRun: dry}
	lessons, err := a.forgetLessons(name, dry)
	if err != nil {
		return err
	}
	done.Lessons = lessons
	if done.Record, err = forgetIn(a.open, name, dry); err != nil {
		f := *explain(err)
		f.Kept = "nothing was erased"
		if lessons.Named && !dry {
			f.Kept = "the name is gone from the lessons of the drill, and stands in the record"
		}
		return &f
	}
	if !done.Record.Named && !lessons.Named {
		return &fault{Err: fmt.Errorf("there is no hand named %.60q", name), Code: exitNotFound, Kept: "nothing was erased",
			Do: "the log says who worked: dullred log"}
	}
	return a.answer(done, done.text()+a.stillNamed(name))
}

// forgetLessons is of the file of lessons; one that is not there is not made.
func (a *app) forgetLessons(name string, dry bool) (forgottenJSON, error) {
	path, err := a.lessonsPath()
	if err != nil {
		return forgottenJSON{}, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return forgottenJSON{}, nil
	}
	return forgetIn(a.openLessons, name, dry)
}

// forgetIn erases the label of a hand in one file.
func forgetIn(open func() (*bench, error), name string, dry bool) (done forgottenJSON, err error) {
	b, err := open()
	if err != nil {
		return done, err
	}
	label, found, err := b.rec.LabelNamed(record.HandClass, name)
	if err != nil || !found {
		return done, errors.Join(err, b.close())
	}
	done, err = b.made(label.ID)
	if err == nil && !dry {
		err = b.rec.Forget(label.ID)
	}
	path := b.rec.Path()
	if err := errors.Join(err, b.close()); err != nil {
		return done, err
	}
	done.Named, done.Traces = true, !dry && holdsLog(path)
	if !dry && !done.Traces {
		done.Found, err = holdsLabel(path, label)
	}
	return done, err
}

// made counts what a hand has logged.
func (b *bench) made(hand string) (made forgottenJSON, err error) {
	ids, err := b.rec.PiecesOfHand(hand, everyPiece)
	if err != nil {
		return made, err
	}
	for _, id := range ids {
		rows, err := b.rec.Piece(id)
		if err != nil {
			return made, err
		}
		ofBench := true
		for _, r := range rows {
			if r.Hand == hand {
				made.Entries++
				ofBench = ofBench && schedule.Kind(r.Kind).OfBench()
			}
		}
		if !ofBench {
			made.Pieces++
		}
	}
	return made, nil
}

// holdsLog reports whether the log of a closed record still stands and holds
// anything: another program has the record open. Where none has, closing removes it.
func holdsLog(path string) bool {
	info, err := os.Stat(path + "-wal")
	return err == nil && info.Size() > 0
}

// holdsLabel reports whether the label of a hand still stands in the bytes of a closed
// record. SQLite overwrites what is deleted (secure_delete), but a page that was split
// or joined before may hold an older copy in bytes it does not use. A row holds id,
// class and name on end, and the index the lengths of its columns, class and folded
// name (https://www.sqlite.org/fileformat2.html, section 2.1), which no other text is
// by chance, however short the name. A copy that is itself written over in part is
// not seen.
func holdsLabel(path string, l record.Label) (bool, error) {
	raw, err := os.ReadFile(path)
	if err != nil {
		return false, err
	}
	row := l.ID + string(l.Class) + l.Text
	folded := record.Fold(l.Text)
	index := columnLength(string(l.Class)) + columnLength(folded) + columnLength(l.ID) + string(l.Class) + folded
	return bytes.Contains(raw, []byte(row)) || bytes.Contains(raw, []byte(index)), nil
}

// columnLength is how a record of SQLite tells that a column is a text of so many bytes.
func columnLength(text string) string {
	n := 2*len(text) + 13
	if n < 0x80 {
		return string([]byte{byte(n)})
	}
	return string([]byte{byte(n>>7) | 0x80, byte(n & 0x7f)})
}

func (j forgetJSON) text() string {
	var out headed
	head := map[bool]string{false: "forgotten", true: "dry run"}[j.DryRun]
	out.line(head, "%s", clean(j.Hand))
	out.line("record", "%s", j.Record.text(j.DryRun, fmt.Sprintf("entries %d, pieces %d", j.Record.Entries, j.Record.Pieces)))
	out.line("lessons", "%s", j.Lessons.text(j.DryRun, fmt.Sprintf("lessons %d", j.Lessons.Entries)))
	out.line("stays", "what somebody typed: notes, marks and names of pieces; and copies of the record that were made before")
	if j.Record.Traces || j.Lessons.Traces {
		out.line("mind", "another dullred has the file open: traces of the name may stay in its log until the last one ends")
	}
	if j.Record.Found || j.Lessons.Found {
		out.line("mind", "the name still stands in unused bytes of the file, where no dullred shows it: dullred record backup FILE makes a copy without them, to be used instead")
	}
	return out.String()
}

func (f forgottenJSON) text(dry bool, what string) string {
	switch {
	case !f.Named:
		return "no such name in it"
	case dry:
		return "the name would go; what would stay without it: " + what
	}
	return "the name is gone; what stays without it: " + what
}

// stillNamed says where the name is still set for the next entry.
func (a *app) stillNamed(name string) string {
	conf, err := a.config()
	if err != nil || !strings.EqualFold(name, cmp.Or(a.getenv("DULLRED_HAND"), conf.hand)) {
		return ""
	}
	return workedLine("mind", "this bench still works under that name, by $DULLRED_HAND or config.toml: the next entry brings it back, for a new hand")
}
