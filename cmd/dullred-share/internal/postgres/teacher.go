package postgres

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"dullred/schedule/share"
)

// errUnprepared is of a server without our groups.
var errUnprepared = fmt.Errorf("%w: the server was not prepared", share.ErrNotShared)

// Release takes a bench from the role that claimed it, so that another role may. Only a
// teacher may do that; the entries of the bench stay.
func (s *Store) Release(ctx context.Context, bench string) error {
	return s.teach(ctx, `SELECT dullred.release($1)`, bench)
}

// Forget erases the label of an id for good; a bench that sends it again is told that it
// stays forgotten. Only a teacher may do that, and the entries stay. Until the server has
// vacuumed the table, and in its log and backups for as long as these are kept, the text
// can still be found by whoever has its disk.
func (s *Store) Forget(ctx context.Context, id string) error {
	return s.teach(ctx, `SELECT dullred.forget($1)`, id)
}

func (s *Store) teach(ctx context.Context, call, id string) error {
	if err := uuid.Validate(id); err != nil {
		return fmt.Errorf("%.60q is not an id", id)
	}
	return s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) error {
		_, err := conn.Exec(ctx, call, id)
		return err
	})
}

// Benches are the roles that write for a bench, by the ids of the benches.
func (s *Store) Benches(ctx context.Context) (map[string]string, error) {
	var benches map[string]string
	err := s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) error {
		rows, err := conn.Query(ctx, `SELECT id, role FROM dullred.bench`)
		if err != nil {
			return err
		}
		benches = map[string]string{}
		var bench, role string
		_, err = pgx.ForEachRow(rows, []any{&bench, &role}, func() error {
			benches[bench] = role
			return nil
		})
		return err
	})
	return benches, err
}
