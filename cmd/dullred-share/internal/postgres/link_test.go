package postgres_test

import (
	"bufio"
	"context"
	"io"
	"net"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
)

// A server that began to answer is told from one that is not there: more patience helps.
func TestServerThatIsSlow(t *testing.T) {
	for _, c := range []struct {
		name, says string
		kind       error
		reason     string
	}{
		{"slow", "R", share.ErrSlow, "the first byte of how to prove who one is"},
		{"silent", "", context.DeadlineExceeded, "nobody may be there"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := net.Listen("tcp", "127.0.0.1:0")
			require.NoError(t, err)
			defer l.Close()
			go func() {
				conn, err := l.Accept()
				if err != nil {
					return
				}
				defer conn.Close()
				r := bufio.NewReader(conn)
				_, _ = r.ReadByte()
				_, _ = conn.Write([]byte(c.says))
				_, _ = io.Copy(io.Discard, r) // until the other end goes
			}()
			ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
			defer cancel()
			_, err = postgres.Open(ctx, postgres.Config{URL: "postgres://bench1@" + l.Addr().String() + "/school?sslmode=disable"})
			require.ErrorIs(t, err, c.kind, c.reason)
		})
	}
}
