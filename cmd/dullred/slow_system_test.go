//go:build system

package main

import (
	"context"
	"database/sql"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	_ "modernc.org/sqlite"

	"dullred/cmd/internal/built"
)

// Presses are told from bounces by when they were typed, however long the record
// takes to write the first.
func TestSystemSlowRecord(t *testing.T) {
	t.Parallel()
	path := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, reason string
		gap          time.Duration
		passes       int
	}{
		{"bounce", "30 ms apart is one press", 30 * time.Millisecond, 1},
		{"presses", "400 ms apart are two", 400 * time.Millisecond, 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			p := program{path: path, record: filepath.Join(t.TempDir(), "record.db")}
			p.spoon(t, "8x8")
			term := p.screen(t)
			term.waitFor(carryOnAtNothing)
			db, err := sql.Open("sqlite", p.record)
			require.NoError(t, err)
			defer db.Close()
			conn, err := db.Conn(context.Background())
			require.NoError(t, err)
			_, err = conn.ExecContext(context.Background(), "BEGIN IMMEDIATE")
			require.NoError(t, err)
			term.keys(" ")
			time.Sleep(c.gap)
			term.keys(" ")
			time.Sleep(500 * time.Millisecond)
			_, err = conn.ExecContext(context.Background(), "ROLLBACK")
			require.NoError(t, err)
			term.waitFor("logged: ")
			time.Sleep(time.Second)
			term.signal(syscall.SIGTERM)
			term.exitCode()
			passes := slices.DeleteFunc(p.acts(t, "spoon"), func(k string) bool { return k != "pass" })
			require.Len(t, passes, c.passes)
		})
	}
}
