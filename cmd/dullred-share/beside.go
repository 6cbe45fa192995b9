package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"dullred/cmd/internal/place"
	"dullred/cmd/internal/say"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// ledgerEnd is what the ledger of a record is called more than the record, beside which
// it lies.
const ledgerEnd = "-share-ledger"

// beside is a record, and what a carrier needs beside it.
type beside struct {
	rec    *record.Record
	lock   *share.Lock // nil where another carrier has it
	ledger *share.Ledger
	beacon *share.File
}

// path is the record of the bench, which must be there.
func (a *app) path() (string, error) {
	path, err := place.Record(a.record)
	if err != nil {
		return "", &say.Fault{Err: err, Code: exitRecord, Kept: "nothing was carried", Do: "mend it, or name the record with --record"}
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return "", &say.Fault{Err: fmt.Errorf("there is no record at %s", path), Code: exitRecord, Kept: "none was made",
			Do: "start a piece with dullred first, or name the record with --record"}
	}
	if path, err = filepath.EvalSymlinks(path); err != nil {
		return "", &say.Fault{Err: err, Code: exitRecord, Kept: "nothing was carried", Do: "name the record with --record"}
	}
	return path, nil
}

// besideAlone opens the record and what lies beside it, unless another carrier has it.
func (a *app) besideAlone(to target) (*beside, error) {
	b, err := a.opened(to, func(path string) (*share.Lock, *share.Ledger, error) {
		lock, err := lone(share.LockPath(path))
		if err != nil {
			return nil, nil, err
		}
		ledger, err := share.OpenLedger(path+ledgerEnd, storeName(to.url))
		if err != nil {
			return nil, nil, errors.Join(err, lock.Release())
		}
		return lock, ledger, nil
	})
	return b, err
}

// lone takes the lock of a record. Who only looks whether a carrier runs has it for a
// moment, which is waited for.
func lone(path string) (lock *share.Lock, err error) {
	for range 5 {
		if lock, err = share.Lone(path); !errors.Is(err, share.ErrBeside) {
			return lock, err
		}
		time.Sleep(20 * time.Millisecond)
	}
	return nil, err
}

// besideOther is besideAlone, or where another carrier has the record, what that one
// knows, to be read only.
func (a *app) besideOther(to target) (*beside, error) {
	b, err := a.besideAlone(to)
	if !errors.Is(err, share.ErrBeside) {
		return b, err
	}
	return a.opened(to, func(path string) (*share.Lock, *share.Ledger, error) {
		ledger, err := share.ReadLedger(path+ledgerEnd, storeName(to.url))
		return nil, ledger, err
	})
}

func (a *app) opened(to target, files func(path string) (*share.Lock, *share.Ledger, error)) (*beside, error) {
	if err := to.check(); err != nil {
		return nil, err
	}
	path, err := a.path()
	if err != nil {
		return nil, err
	}
	rec, err := record.Open(path)
	if err != nil {
		return nil, err
	}
	b := &beside{rec: rec, beacon: share.BeaconFile(share.BeaconPath(rec.Path()))}
	if b.lock, b.ledger, err = files(rec.Path()); err != nil {
		return nil, errors.Join(err, rec.Close())
	}
	return b, nil
}

func (b *beside) close() error {
	var locked error
	if b.lock != nil {
		locked = b.lock.Release()
	}
	return errors.Join(b.ledger.Close(), b.rec.Close(), locked)
}

// carrier carries between the record and a shared one, where the bench is called by its
// role.
func (a *app) carrier(b *beside, to target) *share.Carrier {
	return &share.Carrier{
		Local: share.Beside(b.rec), Ledger: b.ledger, Name: roleName(to.url), Now: a.now,
		Dial: func(ctx context.Context, bench string) (share.Store, error) { return a.open(ctx, to, bench) },
	}
}

// storeName is what a ledger calls a shared record: where it is, whoever goes there.
func storeName(address string) string {
	u, err := url.Parse(address)
	if err != nil {
		return "unknown"
	}
	return u.Host + u.Path + "?" + u.Query().Get("host") + u.Query().Get("port") + u.Query().Get("dbname")
}

// roleName is the role in an address, "" if there is none.
func roleName(address string) string {
	u, err := url.Parse(address)
	if err != nil {
		return ""
	}
	return u.User.Username()
}
