package postgres

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"dullred/schedule/share"
)

// Store is a shared record in a PostgreSQL database.
type Store struct {
	at   *address
	work *link       // for what it is asked
	ear  *link       // for news
	deaf atomic.Bool // there is no LISTEN
}

var _ share.Store = (*Store)(nil)

// Open opens a shared record, and claims the bench where one is given. It fails when the
// server cannot be reached; a Store that was opened goes on when the server went and
// came back.
func Open(ctx context.Context, c Config) (*Store, error) {
	at, err := c.address()
	if err != nil {
		return nil, err
	}
	s := &Store{at: at}
	s.work, s.ear = newLink(at, s.begin), newLink(at, s.listen)
	if err := s.work.hold(ctx, func(*pgx.Conn) error { return nil }); err != nil {
		return nil, err
	}
	return s, nil
}

// Close waits for what is under way and lets go of the connections.
func (s *Store) Close() error {
	s.work.close()
	s.ear.close()
	return nil
}

// begin looks whether the database is of our version, and claims the bench.
func (s *Store) begin(ctx context.Context, conn *pgx.Conn) error {
	var n int
	if err := conn.QueryRow(ctx, `SELECT n FROM dullred.version`).Scan(&n); err != nil {
		return err
	}
	if err := vetVersion(n); err != nil {
		return err
	}
	if s.at.Bench == "" {
		return nil
	}
	_, err := conn.Exec(ctx, `SELECT dullred.claim($1)`, s.at.Bench)
	return err
}

// vetVersion refuses a database that was prepared by another version.
func vetVersion(n int) error {
	switch {
	case n > len(steps):
		return fmt.Errorf("%w: it is version %d, this program knows %d", share.ErrNewer, n, len(steps))
	case n < len(steps):
		return fmt.Errorf("%w: it is version %d, this program needs %d", share.ErrOlder, n, len(steps))
	}
	return nil
}

// listen asks for news, where the server can give any.
func (s *Store) listen(ctx context.Context, conn *pgx.Conn) error {
	_, err := conn.Exec(ctx, `LISTEN dullred`)
	if refusal, ok := errors.AsType[*pgconn.PgError](err); ok && noListen(refusal.Code) {
		s.deaf.Store(true)
		return nil
	}
	return err
}

// noListen reports whether a code says that there is no LISTEN: it is not supported, not
// understood, or not while the server is a copy that only gives.
func noListen(code string) bool { return code == "0A000" || code == "42601" || code == "25006" }

// Wait returns when something was stored after a cursor, or with an error.
func (s *Store) Wait(ctx context.Context, cursor int64) error {
	return s.ear.hold(ctx, func(conn *pgx.Conn) error {
		for {
			last, err := s.last(ctx, conn)
			if err != nil || last > cursor {
				return err
			}
			if err := s.pause(ctx, conn); err != nil {
				return err
			}
		}
	})
}

// last is the last place in the line. The question shows too whether anybody is there.
func (s *Store) last(ctx context.Context, conn *pgx.Conn) (last int64, err error) {
	ctx, cancel := context.WithTimeout(ctx, min(s.at.Timeout, patience))
	defer cancel()
	return last, conn.QueryRow(ctx, `SELECT seq FROM dullred.head`).Scan(&last)
}

// patience is how long the answer to the shortest question may take. With the time
// between two of them it is under ten seconds.
const patience = 5 * time.Second

// pause ends with news, or after a while without.
func (s *Store) pause(ctx context.Context, conn *pgx.Conn) error {
	short, cancel := context.WithTimeout(ctx, s.at.Poll)
	defer cancel()
	if s.deaf.Load() {
		<-short.Done()
		return ctx.Err()
	}
	_, err := conn.WaitForNotification(short)
	if err != nil && short.Err() != nil {
		return ctx.Err()
	}
	return err
}
