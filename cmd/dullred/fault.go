package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"dullred/alloys"
	"dullred/cmd/internal/say"
	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/tui/term"
)

// Exit codes, as say.Exits states them.
const (
	exitOK       = 0
	exitFailed   = 1 // something unexpected
	exitRefused  = 2 // what was typed cannot be right; nothing was recorded
	exitNotFound = 3 // no such piece, zone, entry or alloy
	exitRecord   = 4 // the record cannot be read or written
)

// fault is an error with what was kept and what to do about it. That nothing was
// recorded is what is kept where it says nothing of it.
type fault = say.Fault

func refuse(do, format string, args ...any) error {
	return &fault{Err: fmt.Errorf(format, args...), Code: exitRefused, Do: do}
}

func missing(do, format string, args ...any) error {
	return &fault{Err: fmt.Errorf(format, args...), Code: exitNotFound, Do: do}
}

// report prints an error as one sentence and gives the exit code.
func report(w io.Writer, err error) int {
	f := *explain(err)
	f.Kept = cmp.Or(f.Kept, "nothing was recorded")
	f.Do = cmp.Or(f.Do, "try again; dullred record check says whether the record is whole")
	return f.Report(w, "dullred")
}

// remedies says what to do about errors that come from below.
var remedies = []struct {
	is   error
	code int
	do   string
}{
	{record.ErrNewer, exitRecord, "read it with the newer dullred that wrote it"},
	{record.ErrNotRecord, exitRecord, "name another file with --record, or move this one away"},
	{record.ErrDamaged, exitRecord, "copy the file and its -wal aside before anything else, then restore a backup or start a new record with --record"},
	{record.ErrReadOnly, exitRecord, "make the folder writable for you, or name another place with --record"},
	{record.ErrBusy, exitRecord, "another dullred is writing: try again"},
	{record.ErrGone, exitRecord, "put the file back where it was, or start dullred again, and log it again"},
	{record.ErrConflict, exitRecord, "try again"},
	{record.ErrFull, exitRecord, "make room on the disk and log it again"},
	{record.ErrDisk, exitRecord, "copy the record to another disk at once"},
	{schedule.ErrZone, exitNotFound, "see dullred piece list"},
	{schedule.ErrTime, exitRefused, "give --at as 14:05 for today or 2006-01-02 14:05"},
	{schedule.ErrNoHeat, exitRefused, "log the heat first, with --at for when it was: dullred heat begin NAME"},
	{schedule.ErrHot, exitRefused, "cool it first, and log how: dullred heat out NAME, quench NAME or cool NAME"},
	{schedule.ErrCold, exitRefused, "dullred log NAME shows its last heat"},
	{schedule.ErrBath, exitRefused, "log it going in first: dullred pickle in NAME"},
	{schedule.ErrNoCrack, exitRefused, "log it first: dullred crack seen NAME"},
}

func explain(err error) *fault {
	if f, ok := errors.AsType[*fault](err); ok {
		return f
	}
	if r, ok := errors.AsType[*term.Refusal](err); ok {
		return &fault{Err: r.Err, Code: exitFailed, Do: r.Do}
	}
	if _, ok := errors.AsType[*alloys.UnknownError](err); ok {
		return &fault{Err: err, Code: exitNotFound, Do: "dullred alloys lists them all"}
	}
	if e, ok := errors.AsType[*alloys.TableError](err); ok {
		return &fault{Err: err, Code: exitRefused, Do: "mend it, and try it with dullred alloys check " + e.Table}
	}
	if e, ok := errors.AsType[*fs.PathError](err); ok && e.Path == os.Stdout.Name() {
		return &fault{Err: err, Code: exitFailed, Kept: "what was to be recorded is recorded, what was to be printed is not whole",
			Do: "make room where it goes, and ask again"}
	}
	for _, r := range remedies {
		if errors.Is(err, r.is) {
			return &fault{Err: err, Code: r.code, Do: r.do}
		}
	}
	return &fault{Err: err, Code: exitFailed}
}
