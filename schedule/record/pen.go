package record

import (
	"context"
	"database/sql"
	"errors"
)

// pen is the one connection through which a record writes. SQLite tells each
// connection when another one has committed
// (https://www.sqlite.org/pragma.html#pragma_data_version): what goes through
// the pen is therefore ours, and all else is news. Whoever uses it holds
// Record.writing; a transaction of one goroutine would otherwise take in the
// statements of another.
type pen struct{ *sql.Conn }

// take gives the record its pen.
func (r *Record) take() error {
	conn, err := r.db.Conn(context.Background())
	if err == nil {
		r.pen = pen{conn}
	}
	return err
}

// letGo closes every connection of the record. database/sql leaves to us what
// was prepared on a connection that is held, and the connection itself; while
// one of either is open, SQLite keeps the file and its log.
func (r *Record) letGo() error {
	var failures []error
	if r.insert != nil {
		failures = append(failures, r.insert.Close())
	}
	if r.pen.Conn != nil {
		failures = append(failures, r.pen.Close())
	}
	return errors.Join(append(failures, r.db.Close())...)
}

func (p pen) Exec(query string, args ...any) (sql.Result, error) {
	return p.ExecContext(context.Background(), query, args...)
}

func (p pen) Query(query string, args ...any) (*sql.Rows, error) {
	return p.QueryContext(context.Background(), query, args...)
}

func (p pen) QueryRow(query string, args ...any) *sql.Row {
	return p.QueryRowContext(context.Background(), query, args...)
}

func (p pen) Prepare(query string) (*sql.Stmt, error) {
	return p.PrepareContext(context.Background(), query)
}

func (p pen) Begin() (*sql.Tx, error) { return p.BeginTx(context.Background(), nil) }
