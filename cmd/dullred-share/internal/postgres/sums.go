package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"

	"dullred/schedule/share"
)

// Sums are the sums of all pieces, which the server keeps with each entry it stores.
func (s *Store) Sums(ctx context.Context) (map[string]share.Sum, error) {
	var sums map[string]share.Sum
	err := s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) error {
		rows, err := conn.Query(ctx, `SELECT piece, count, digest FROM dullred.piece_sum`)
		if err != nil {
			return err
		}
		sums = map[string]share.Sum{}
		var piece string
		var count, digest int64
		_, err = pgx.ForEachRow(rows, []any{&piece, &count, &digest}, func() error {
			if !areIDs(piece) {
				return errStrange
			}
			sums[piece] = share.Sum{Count: count, Digest: uint64(digest)}
			return nil
		})
		return err
	})
	return sums, err
}

// Total is the sum of all rows.
func (s *Store) Total(ctx context.Context) (share.Sum, error) {
	var count, digest int64
	err := s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) error {
		return conn.QueryRow(ctx, `SELECT count, digest FROM dullred.head`).Scan(&count, &digest)
	})
	if err == nil && count < 0 {
		err = errStrange
	}
	return share.Sum{Count: count, Digest: uint64(digest)}, err
}
