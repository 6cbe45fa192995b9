//go:build system && linux

package pgtest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// number tells databases and roles of one test program apart.
var number atomic.Int64

// Name is a name for a database or a role that nothing else on any server has.
func Name(prefix string) string { return fmt.Sprintf("%s_%d", prefix, number.Add(1)) }

// Database makes an empty database and gives its name. It goes with the server: to drop
// it takes as long as most tests.
func (s *Server) Database(tb testing.TB) string {
	tb.Helper()
	name := Name("school")
	s.Exec(tb, "postgres", `CREATE DATABASE `+name)
	return name
}

// statementLimit is how long the owner waits for an answer.
const statementLimit = time.Minute

// Exec runs statements in a database as the owner.
func (s *Server) Exec(tb testing.TB, database, statements string) {
	tb.Helper()
	s.As(tb, database, func(ctx context.Context, conn *pgx.Conn) error {
		_, err := conn.Exec(ctx, statements, pgx.QueryExecModeSimpleProtocol)
		return err
	})
}

// As does something on a connection of the owner.
func (s *Server) As(tb testing.TB, database string, do func(context.Context, *pgx.Conn) error) {
	tb.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), statementLimit)
	defer cancel()
	conn, err := s.connect(ctx, database)
	if err == nil {
		err = do(ctx, conn)
		_ = conn.Close(ctx)
	}
	if err != nil {
		tb.Fatal(err)
	}
}

// Secret writes a password into a file for it and gives its path.
func Secret(tb testing.TB, password string) string {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), strings.ReplaceAll(Name("secret"), " ", "_"))
	if err := os.WriteFile(path, []byte(password+"\n"), 0o600); err != nil {
		tb.Fatal(err)
	}
	return path
}
