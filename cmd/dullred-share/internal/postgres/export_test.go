package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"

	"dullred/schedule/share"
)

// SendPast calls what Send calls, without its checks.
func SendPast(ctx context.Context, conn *pgx.Conn, b share.Batch) error {
	var a answer
	return a.ask(ctx, conn, b)
}

// Climb is Prepare with steps of a test.
func Climb(ctx context.Context, conn *pgx.Conn, steps []string) (from, to int, err error) {
	return climb(ctx, conn, steps)
}

// Steps are the steps of this version.
func Steps() ([]string, error) { return texts(steps) }

// Deafen is a server without LISTEN.
func (s *Store) Deafen() { s.deaf.Store(true) }
