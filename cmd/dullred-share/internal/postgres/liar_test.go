package postgres

import (
	"bytes"
	"context"
	"io"
	"net"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgproto3"
	"github.com/jackc/pgx/v5/pgtype"
	"github.com/stretchr/testify/require"
)

// said are messages of a server, in the order in which a client waits for them
// (https://www.postgresql.org/docs/15/protocol-flow.html).
type said []pgproto3.BackendMessage

var ready = &pgproto3.ReadyForQuery{TxStatus: 'I'}

// prepared is that a statement was understood, and the columns that it gives.
func prepared(parameters []uint32, columns ...uint32) said {
	var fields []pgproto3.FieldDescription
	for _, oid := range columns {
		fields = append(fields, pgproto3.FieldDescription{Name: []byte("c"), DataTypeOID: oid, DataTypeSize: -1, TypeModifier: -1})
	}
	return said{&pgproto3.ParseComplete{}, &pgproto3.ParameterDescription{ParameterOIDs: parameters}, &pgproto3.RowDescription{Fields: fields}}
}

// gave are rows, of the columns of a statement that was prepared.
func gave(columns []uint32, rows ...[]any) said {
	all := said{&pgproto3.BindComplete{}}
	types := pgtype.NewMap()
	for _, row := range rows {
		var d pgproto3.DataRow
		for i, v := range row {
			text, err := types.Encode(columns[i], types.FormatCodeForOID(columns[i]), v, []byte{})
			if err != nil {
				panic(err)
			}
			d.Values = append(d.Values, text)
		}
		all = append(all, &d)
	}
	return append(all, &pgproto3.CommandComplete{CommandTag: []byte("SELECT")})
}

// answered is the answer to one statement, which is prepared first.
func answered(parameters, columns []uint32, rows ...[]any) said {
	return together(prepared(parameters, columns...), said{ready}, gave(columns, rows...), said{ready})
}

func together(parts ...said) (all said) {
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

// wire is what is said as it comes over a connection.
func (s said) wire(t testing.TB) (out []byte) {
	for _, m := range s {
		var err error
		out, err = m.Encode(out)
		require.NoError(t, err)
	}
	return out
}

// lyingStore is a store whose server lets everybody in, says some bytes whatever it is
// asked, and hangs up. The password is anvil.
func lyingStore(t testing.TB, says []byte) *Store {
	at, err := Config{URL: "postgres://bench@localhost:1/school?sslmode=disable", Timeout: time.Second}.address()
	require.NoError(t, err)
	at.conn.Password = "anvil"
	at.conn.MaxProtocolMessageBodyLen = 1 << 20 // of whatever length a message claims to be
	at.conn.LookupFunc = func(context.Context, string) ([]string, error) { return []string{"127.0.0.1"}, nil }
	begins := said{&pgproto3.AuthenticationOk{}, &pgproto3.BackendKeyData{ProcessID: 1, SecretKey: []byte{0, 0, 0, 1}}, ready}.wire(t)
	at.conn.DialFunc = func(context.Context, string, string) (net.Conn, error) {
		return &deaf{in: io.MultiReader(bytes.NewReader(begins), bytes.NewReader(says))}, nil
	}
	s := &Store{at: at}
	s.work = newLink(at, func(context.Context, *pgx.Conn) error { return nil })
	s.ear = s.work
	return s
}

// deaf is a connection to somebody who does not listen.
type deaf struct{ in io.Reader }

func (d *deaf) Read(b []byte) (int, error)     { return d.in.Read(b) }
func (*deaf) Write(b []byte) (int, error)      { return len(b), nil }
func (*deaf) Close() error                     { return nil }
func (*deaf) LocalAddr() net.Addr              { return &net.TCPAddr{} }
func (*deaf) RemoteAddr() net.Addr             { return &net.TCPAddr{} }
func (*deaf) SetDeadline(time.Time) error      { return nil }
func (*deaf) SetReadDeadline(time.Time) error  { return nil }
func (*deaf) SetWriteDeadline(time.Time) error { return nil }
