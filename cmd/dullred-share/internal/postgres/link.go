package postgres

import (
	"context"
	"errors"
	"net"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"

	"dullred/schedule/share"
)

// link is one connection, used by one at a time, that is made when it is needed and made
// anew when it was lost.
type link struct {
	at   *address
	open func(context.Context, *pgx.Conn) error // what a new connection begins with
	turn chan struct{}                          // holds one token while nobody uses it
	conn *pgx.Conn
}

func newLink(at *address, open func(context.Context, *pgx.Conn) error) *link {
	l := &link{at: at, open: open, turn: make(chan struct{}, 1)}
	l.turn <- struct{}{}
	return l
}

// use does something on the connection, within the time for a statement, which begins
// when it is its turn. An error is in our words.
func (l *link) use(ctx context.Context, do func(context.Context, *pgx.Conn) error) error {
	return l.hold(ctx, func(conn *pgx.Conn) error {
		limited, cancel := context.WithTimeout(ctx, l.at.Timeout)
		defer cancel()
		return do(limited, conn)
	})
}

// hold is use without a limit of time but that for making the connection.
func (l *link) hold(ctx context.Context, do func(*pgx.Conn) error) error {
	select {
	case <-l.turn:
		defer func() { l.turn <- struct{}{} }()
	case <-ctx.Done():
		return ctx.Err()
	}
	err := l.ready(ctx)
	if err == nil {
		err = do(l.conn)
	}
	if err == nil {
		return nil
	}
	lost := l.conn == nil || l.conn.IsClosed()
	said := l.at.fault(ctx, err, lost)
	if lost || stale(said) {
		l.drop()
	}
	return said
}

// ready connects, unless there is a connection.
func (l *link) ready(ctx context.Context) error {
	if l.conn != nil && !l.conn.IsClosed() {
		return nil
	}
	ctx, cancel := context.WithTimeout(ctx, l.at.Timeout)
	defer cancel()
	var heard atomic.Bool
	conn, err := pgx.ConnectConfig(ctx, l.at.heard(&heard))
	if err == nil {
		if err = l.open(ctx, conn); err != nil {
			hangUp(conn)
		}
	}
	if err != nil && heard.Load() && errors.Is(ctx.Err(), context.DeadlineExceeded) {
		return share.ErrSlow
	}
	if err == nil {
		l.conn = conn
	}
	return err
}

// heard is how to connect, taking down whether the server said anything.
func (a *address) heard(said *atomic.Bool) *pgx.ConnConfig {
	c := a.conn.Copy()
	dial := c.DialFunc
	c.DialFunc = func(ctx context.Context, network, addr string) (net.Conn, error) {
		conn, err := dial(ctx, network, addr)
		return listened{conn, said}, err
	}
	return c
}

// listened is a connection that takes down whether anything came.
type listened struct {
	net.Conn
	said *atomic.Bool
}

func (l listened) Read(b []byte) (int, error) {
	n, err := l.Conn.Read(b)
	if n > 0 {
		l.said.Store(true)
	}
	return n, err
}

// drop lets go of the connection.
func (l *link) drop() {
	if l.conn != nil {
		hangUp(l.conn)
		l.conn = nil
	}
}

// hangUp closes a connection, politely for a moment.
func hangUp(conn *pgx.Conn) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	_ = conn.Close(ctx) // there is nobody left to tell
}

// close waits until nobody uses the link, and lets go of it.
func (l *link) close() {
	<-l.turn
	defer func() { l.turn <- struct{}{} }()
	l.drop()
}
