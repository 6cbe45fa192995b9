package postgres

import (
	"context"
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"dullred/schedule/share"
)

// steps are the folders whose files, in the order of their names, bring a database from
// one version to the next. A step that has been released is never changed.
var steps = []string{"migration/1"}

//go:embed migration
var files embed.FS

// texts are the texts of some steps.
func texts(folders []string) (all []string, err error) {
	for _, folder := range folders {
		names, err := fs.Glob(files, folder+"/*.sql")
		if err != nil {
			return nil, err
		}
		slices.Sort(names)
		var step strings.Builder
		for _, name := range names {
			text, err := files.ReadFile(name)
			if err != nil {
				return nil, err
			}
			step.Write(text)
		}
		all = append(all, step.String())
	}
	return all, nil
}

// prepareLock is the advisory lock that keeps two who prepare apart: "dulr" as a number.
const prepareLock = 0x64756c72

// Prepare makes the schema dullred in a database and the groups of roles, or brings them
// up to date: forward only, each step in a transaction of its own. It gives the versions
// before and after; 0 is a database without the schema. The role must be the owner of
// the schema, or be allowed to make schemas in the database and roles on the server.
func Prepare(ctx context.Context, c Config) (from, to int, err error) {
	all, err := texts(steps)
	if err != nil {
		return 0, 0, err
	}
	err = once(ctx, c, func(ctx context.Context, conn *pgx.Conn) error {
		from, to, err = climb(ctx, conn, all)
		return err
	})
	return from, to, err
}

// once does something on a connection that is made for it.
func once(ctx context.Context, c Config, do func(context.Context, *pgx.Conn) error) error {
	at, err := c.address()
	if err != nil {
		return err
	}
	l := newLink(at, func(context.Context, *pgx.Conn) error { return nil })
	defer l.close()
	return l.hold(ctx, func(conn *pgx.Conn) error { return do(ctx, conn) })
}

// climb applies the steps that a database lacks.
func climb(ctx context.Context, conn *pgx.Conn, steps []string) (from, to int, err error) {
	if err := vetServer(ctx, conn); err != nil {
		return 0, 0, err
	}
	for done := range len(steps) + 1 {
		before, err := climbOne(ctx, conn, steps)
		if err != nil {
			return from, to, err
		}
		if done == 0 {
			from = before
		}
		if to = before; to == len(steps) {
			return from, to, nil
		}
	}
	return from, to, errStrange // it keeps none of them
}

// vetServer refuses a database that cannot keep every text.
func vetServer(ctx context.Context, conn *pgx.Conn) error {
	var encoding string
	if err := conn.QueryRow(ctx, `SHOW server_encoding`).Scan(&encoding); err != nil {
		return err
	}
	if encoding != "UTF8" {
		return fmt.Errorf("%w: the encoding of the database is %.20q and must be UTF8; make it anew with createdb --encoding UTF8 --template template0", share.ErrNotShared, encoding)
	}
	return nil
}

// climbOne applies the next step, if there is one, and gives the version before it.
func climbOne(ctx context.Context, conn *pgx.Conn, steps []string) (version int, err error) {
	tx, err := conn.Begin(ctx)
	if err != nil {
		return 0, err
	}
	defer tx.Rollback(ctx)
	if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock($1)`, prepareLock); err != nil {
		return 0, err
	}
	if version, err = versionOf(ctx, tx); err != nil || version == len(steps) {
		return version, err
	}
	if version > len(steps) || version < 0 {
		return version, vetVersion(version)
	}
	if _, err := tx.Exec(ctx, steps[version], pgx.QueryExecModeSimpleProtocol); err != nil {
		return version, err
	}
	if _, err := tx.Exec(ctx, `UPDATE dullred.version SET n = $1`, version+1); err != nil {
		return version, err
	}
	return version, tx.Commit(ctx)
}

// versionOf is the version of the schema, 0 where there is none.
func versionOf(ctx context.Context, tx pgx.Tx) (version int, err error) {
	var there bool
	if err := tx.QueryRow(ctx, `SELECT to_regclass('dullred.version') IS NOT NULL`).Scan(&there); err != nil || !there {
		return 0, err
	}
	return version, tx.QueryRow(ctx, `SELECT n FROM dullred.version`).Scan(&version)
}
