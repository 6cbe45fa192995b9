package postgres

import (
	"context"
	"crypto/md5"
	"encoding/hex"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"dullred/schedule"
	"dullred/schedule/share"
)

// errUnprepared is of a server without our groups.
var errUnprepared = fmt.Errorf("%w: the server was not prepared", share.ErrNotShared)

// Bench is a bench as a shared record knows it.
type Bench struct {
	ID      string
	Name    string    // "" where it gave none, or was forgotten
	Role    string    // that writes for it; "" where none does
	Entries int64     // that it wrote
	Last    time.Time // when it wrote the last of them, by its own clock; zero where there is none, or none that can be
}

const selectBenches = `SELECT coalesce(b.id, e.bench) AS bench, coalesce(l.text, ''), coalesce(b.role, ''), coalesce(e.entries, 0), coalesce(e.last, 0)
	FROM dullred.bench AS b
	FULL JOIN (SELECT bench, count(*) AS entries, max(written) AS last FROM dullred.entry GROUP BY bench) AS e ON e.bench = b.id
	LEFT JOIN dullred.label AS l ON l.id = coalesce(b.id, e.bench) AND l.class = 'bench'
	ORDER BY l.text, bench`

// Benches are all benches that have a role or wrote an entry, in the order of their
// names; those without a name come last. It reads every entry.
func (s *Store) Benches(ctx context.Context) (all []Bench, err error) {
	err = s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) error {
		rows, err := conn.Query(ctx, selectBenches)
		if err != nil {
			return err
		}
		all, err = pgx.CollectRows(rows, readBench)
		return err
	})
	return all, err
}

func readBench(row pgx.CollectableRow) (b Bench, err error) {
	var last int64
	if err := row.Scan(&b.ID, &b.Name, &b.Role, &b.Entries, &last); err != nil {
		return b, err
	}
	if !areIDs(b.ID) || b.Entries < 0 {
		return b, errStrange
	}
	if at := time.UnixMicro(last).UTC(); last != 0 && schedule.Plausible(at) {
		b.Last = at
	}
	return b, nil
}

// Named gives the label of a class (piece, hand or bench) that bears a text, upper and
// lower case being the same, and false where none does.
func (s *Store) Named(ctx context.Context, class, text string) (l share.Label, found bool, err error) {
	folded := md5.Sum([]byte(share.Fold(text)))
	err = s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) error {
		rows, err := conn.Query(ctx, `SELECT id, class, text FROM dullred.label WHERE class = $1 AND folded = $2`, class, hex.EncodeToString(folded[:]))
		if err != nil {
			return err
		}
		_, err = pgx.ForEachRow(rows, []any{&l.ID, &l.Class, &l.Text}, func() error { found = true; return nil })
		if found && (!areIDs(l.ID) || l.Class != class) {
			return errStrange
		}
		return err
	})
	return l, found, err
}

// Release takes a bench from the role that claimed it, so that another role may claim
// it, and the role another bench; the first that comes has it. Only a teacher may do
// that; the entries of the bench stay.
func (s *Store) Release(ctx context.Context, bench string) error {
	return s.teach(ctx, `SELECT dullred.release($1)`, bench)
}

// Forget erases the label of an id for good; a bench that sends it again is told that it
// stays forgotten, and one that has it keeps it. Only a teacher may do that, and the
// entries stay. Until the owner of the database has the table written anew (VACUUM FULL
// dullred.label), and in the log and backups of the server for as long as these are kept,
// the text can still be found by whoever has its disk.
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
