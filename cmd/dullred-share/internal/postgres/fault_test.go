package postgres

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"syscall"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"

	"dullred/schedule/share"
)

func somewhere(t *testing.T, password string) *address {
	t.Helper()
	quiet(t)
	at, err := Config{URL: "postgres://bench@localhost:1/school"}.address()
	require.NoError(t, err)
	at.conn.Password = password
	return at
}

// TestFaults goes through the codes of
// https://www.postgresql.org/docs/15/errcodes-appendix.html that a bench may meet; those
// that can be provoked are met by the tests against a server.
func TestFaults(t *testing.T) {
	at := somewhere(t, "anvil")
	cases := []struct {
		code string
		kind error
	}{
		{"08006", share.ErrUnreachable}, {"25006", share.ErrRights}, {"28000", share.ErrPassword}, {"28P01", share.ErrPassword},
		{"3D000", share.ErrNotShared}, {"3F000", share.ErrNotShared}, {"40001", share.ErrUnreachable}, {"42501", share.ErrRights},
		{"42P01", share.ErrNotShared}, {"42883", share.ErrNotShared}, {"53100", share.ErrFull}, {"53300", share.ErrUnreachable},
		{"57014", share.ErrUnreachable}, {"57P01", share.ErrUnreachable}, {"57P02", share.ErrUnreachable}, {"57P03", share.ErrUnreachable},
		{"DR001", share.ErrForged}, {"DR002", share.ErrRights},
	}
	for _, c := range cases {
		err := at.fault(t.Context(), fmt.Errorf("connect: %w", &pgconn.PgError{Code: c.code, Message: "no\n\tanvil"}), false)
		require.ErrorIs(t, err, c.kind, c.code)
		require.NotContains(t, err.Error(), "anvil", c.code)
		require.NotContains(t, err.Error(), "\n", c.code)
	}
	require.EqualError(t, at.fault(t.Context(), &pgconn.PgError{Code: "28P01"}, false),
		`the server does not accept the role or its password: role "bench"`)
	err := at.fault(t.Context(), &pgconn.PgError{Code: "XX000", Message: "it broke at anvil"}, false)
	require.EqualError(t, err, "the server refuses it: it broke at … (its code XX000)")
	require.NotErrorIs(t, err, share.ErrUnreachable)
	err = at.fault(t.Context(), fmt.Errorf("failed to connect:\n\tlocalhost: %w", ErrAddress), true)
	require.EqualError(t, err, "failed to connect: localhost: the address cannot be used", "one line, whatever the library says")
	require.ErrorIs(t, err, ErrAddress)
	require.Equal(t, errStrange, at.fault(t.Context(), pgx.ScanArgError{ColumnIndex: 1, Err: errors.New("anvil")}, false))
}

func dialled(err error) error {
	return fmt.Errorf("connect: %w", &net.OpError{Op: "dial", Err: os.NewSyscallError("connect", err)})
}

// TestNoPasswordIsSaidSo: the server says the same of none as of a wrong one.
func TestNoPasswordIsSaidSo(t *testing.T) {
	err := somewhere(t, "").fault(t.Context(), &pgconn.PgError{Code: "28P01"}, false)
	require.EqualError(t, err, `the server does not accept the role or its password: no password was given for "bench"`)
}

func TestFaultsOfTheWay(t *testing.T) {
	at := somewhere(t, "")
	require.ErrorIs(t, at.fault(t.Context(), io.ErrUnexpectedEOF, true), share.ErrUnreachable)
	late := at.fault(t.Context(), context.DeadlineExceeded, true)
	require.ErrorIs(t, late, share.ErrUnreachable)
	require.ErrorContains(t, late, "does not answer within 10s")
	for _, c := range []struct {
		name string
		err  error
		says string
	}{
		{"nobody listens", dialled(syscall.ECONNREFUSED), "no server runs at localhost:1"},
		{"no socket", dialled(syscall.ENOENT), "no server runs at localhost:1"},
		{"the cable is out here", dialled(syscall.ENETUNREACH), "there is no way to localhost:1 from here"},
		{"the cable is out there", dialled(syscall.EHOSTUNREACH), "there is no way to localhost:1 from here"},
		{"no such name", &net.DNSError{Name: "db.example", IsNotFound: true}, "no machine is known by the name db.example"},
		{"nobody knows names", &net.DNSError{Name: "db.example"}, "nobody can be asked where db.example is"},
		{"no right to dial", dialled(syscall.EACCES), "localhost:1: connect: permission denied"},
		{"broken off", &net.OpError{Op: "read", Err: syscall.ECONNRESET}, "localhost:1 ended the connection"},
	} {
		require.EqualError(t, at.fault(t.Context(), c.err, true), "the shared record cannot be reached: "+c.says, c.name)
	}
	refused := errors.New("failed to connect: " + noTLS)
	tls, err := Config{URL: "postgres://bench@localhost:1/school?sslmode=require"}.address()
	require.NoError(t, err)
	require.EqualError(t, tls.fault(t.Context(), refused, true), "the shared record cannot be reached: localhost:1 has no TLS, which the address asks for")
	require.EqualError(t, at.fault(t.Context(), refused, true), "the shared record cannot be reached: localhost:1 ended the connection", "it may go without")
	require.EqualError(t, at.fault(t.Context(), errors.New("a mistake of ours"), false), "a mistake of ours")

	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	require.Equal(t, context.Canceled, at.fault(ctx, io.ErrUnexpectedEOF, true), "the caller has given up: that is no fault of the server")
}
