package share

import (
	"errors"
	"fmt"
)

// What a Store may fail with. An error holds at most one of these, and says in one
// sentence what was found; none holds a password.
var (
	// ErrUnreachable: no server answers there, it answers too late, it is going down or
	// coming up, or what answers is no server of the kind. It may pass by itself.
	ErrUnreachable = errors.New("the shared record cannot be reached")
	// ErrSlow: a server is there and was not done in time when a connection was made. It
	// is an ErrUnreachable for which more patience helps.
	ErrSlow = fmt.Errorf("%w in time: the server answers, and is too slow", ErrUnreachable)
	// ErrPassword: the server does not know the role, or does not take its password.
	ErrPassword = errors.New("the server does not accept the role or its password")
	// ErrCertificate: the server could not prove that it is the one that was meant, or
	// the connection would not have been encrypted.
	ErrCertificate = errors.New("the server has not proved who it is")
	// ErrNotShared: the server is there, but it holds no shared record: the database is
	// missing, or it was not prepared.
	ErrNotShared = errors.New("there is no shared record")
	// ErrNewer: the shared record was made ready for a newer version of this program.
	ErrNewer = errors.New("the shared record is of a newer version of dullred-share")
	// ErrOlder: the shared record was made ready for an older version of this program,
	// and its owner must prepare it again.
	ErrOlder = errors.New("the shared record is of an older version of dullred-share")
	// ErrRights: the role may not do that.
	ErrRights = errors.New("the role has no right to do that")
	// ErrFull: the disk of the server is full; what was stored before can still be read.
	ErrFull = errors.New("the disk of the server is full")
	// ErrForged: a row or a label is of another bench than the one that sends it, or the
	// bench belongs to another role.
	ErrForged = errors.New("that is of another bench")
	// ErrRewound: the cursor lies beyond the end, so that the server holds less than was
	// read from it: it was put back to an earlier state. What it holds is to be read from
	// 0 again, and what it lacks sent again.
	ErrRewound = errors.New("the shared record was put back to an earlier state")
)
