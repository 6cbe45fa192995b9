package main

import (
	"errors"

	"dullred/cmd/dullred-share/internal/board"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/cmd/internal/say"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// Exit codes, as say.Exits states them.
const (
	exitOK      = 0
	exitFailed  = 1 // something unexpected
	exitRefused = 2 // what was typed cannot be right
	exitRecord  = 4 // the record of the bench cannot be read or written
	exitShared  = 5 // the shared record cannot be reached, or refuses
)

// goesOn is what is kept whatever happens to the shared record.
const goesOn = "the bench goes on alone, nothing is lost"

// remedies says what to do about errors that come from below.
var remedies = []struct {
	is   error
	code int
	kept string
	do   string
}{
	{postgres.ErrAddress, exitRefused, "nothing was done", "see dullred-share --help"},
	{board.ErrAddress, exitRefused, "no page was given", "see dullred-share board --help"},
	{postgres.ErrLogin, exitRefused, "no role was made", "see dullred-share role --help"},

	{share.ErrBeside, exitRefused, "it goes on, and this one did nothing", "end that one first"},
	{share.ErrNoLedger, exitRefused, "nothing was done", "compare with the shared record that it carries to, or end it first"},

	{share.ErrUnreachable, exitShared, goesOn, "see that the server runs and the cable is in; dullred-share run tries again by itself"},
	{share.ErrPassword, exitShared, goesOn, "put the password of the role into a file for --password-file, or into ~/.pgpass"},
	{share.ErrCertificate, exitShared, goesOn, "have the owner of the server put its certificate right, or get the file that proves it and name that with sslrootcert=FILE in the address"},
	{share.ErrNotShared, exitShared, goesOn, "see the name of the database, or have its owner run dullred-share prepare"},
	{share.ErrNewer, exitShared, goesOn, "install the dullred-share that the shared record is of"},
	{share.ErrOlder, exitShared, goesOn, "have the owner of the database run dullred-share prepare"},
	{share.ErrRights, exitShared, goesOn, "use a role that was made for it: dullred-share role --help"},
	{share.ErrForged, exitShared, goesOn, "use the role that this bench began with, or have the teacher release the bench"},
	{share.ErrFull, exitShared, goesOn, "have the owner make room on the server"},
	{share.ErrRewound, exitShared, goesOn, "try again"},

	{record.ErrNewer, exitRecord, "nothing was carried", "use the dullred-share that belongs to the dullred which wrote it"},
	{record.ErrNotRecord, exitRecord, "nothing was carried", "name the record with --record"},
	{record.ErrDamaged, exitRecord, "nothing was carried", "copy the file and its -wal aside before anything else, then see dullred record check"},
	{record.ErrReadOnly, exitRecord, "nothing was carried", "make the folder writable for you, or name another record with --record"},
	{record.ErrBusy, exitRecord, "nothing is lost", "another program is writing: try again"},
	{record.ErrGone, exitRecord, "nothing more was carried", "put the file back where it was"},
	{record.ErrFull, exitRecord, "nothing is lost", "make room on the disk of the bench"},
	{record.ErrDisk, exitRecord, "the shared record keeps what was carried", "copy the record to another disk at once"},
}

// inSchool is explain for who works in the shared record itself, and not beside a bench;
// rights is what to do without the right.
func inSchool(err error, rights string) error {
	f := explain(err)
	if err == nil || f.Code != exitShared && f.Code != exitFailed {
		return err
	}
	f.Kept = "what was shared is kept"
	switch {
	case errors.Is(err, share.ErrUnreachable):
		f.Do = "see that the server runs and the cable is in, and try again"
	case errors.Is(err, share.ErrRights):
		f.Do = rights
	}
	return f
}

// explain is an error with what was kept and what to do.
func explain(err error) *say.Fault {
	if f, ok := errors.AsType[*say.Fault](err); ok {
		return f
	}
	for _, r := range remedies {
		if errors.Is(err, r.is) {
			return &say.Fault{Err: err, Code: r.code, Kept: r.kept, Do: r.do}
		}
	}
	return &say.Fault{Err: err, Code: exitFailed, Kept: goesOn}
}
