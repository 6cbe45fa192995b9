package postgres

import (
	"encoding/base64"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestScram sets the keys against the exchange printed in RFC 7677, section 3: what the
// server signs there with its key.
//
// Outside check (standard): the exchange printed in RFC 7677.
func TestScram(t *testing.T) {
	const said = "n=user,r=rOprNGfwEbeRWgbNEkqO," +
		"r=rOprNGfwEbeRWgbNEkqO%hvYDpWUa2RaTCAfuxFIlj)hNlF$k0,s=W22ZaJ0SNY7soEsUEjb6gQ==,i=4096," +
		"c=biws,r=rOprNGfwEbeRWgbNEkqO%hvYDpWUa2RaTCAfuxFIlj)hNlF$k0"
	salt, err := base64.StdEncoding.DecodeString("W22ZaJ0SNY7soEsUEjb6gQ==")
	require.NoError(t, err)
	verifier, err := scramWith("pencil", salt)
	require.NoError(t, err)
	head, keys, _ := strings.Cut(strings.TrimPrefix(verifier, "SCRAM-SHA-256$"), "$")
	require.Equal(t, "4096:W22ZaJ0SNY7soEsUEjb6gQ==", head)
	_, server, _ := strings.Cut(keys, ":")
	key, err := base64.StdEncoding.DecodeString(server)
	require.NoError(t, err)
	require.Equal(t, "6rriTRBi23WpRR/wtup+mMhUZUn/dB5nLTJRsjl95G4=", base64.StdEncoding.EncodeToString(keyed(key, said)))
}

func TestScramHasASaltOfItsOwn(t *testing.T) {
	a, err := scram("pencil")
	require.NoError(t, err)
	b, err := scram("pencil")
	require.NoError(t, err)
	require.NotEqual(t, a, b)
}

func TestLogin(t *testing.T) {
	cases := []struct {
		name, reason string
		login        Login
		fine         bool
	}{
		{"a writer", "as documented", Login{"bench 3", Writer, "anvil"}, true},
		{"63 bytes", "the longest that PostgreSQL does not cut", Login{strings.Repeat("b", 63), Reader, "anvil"}, true},
		{"64 bytes", "it would be cut, and then be another's", Login{strings.Repeat("b", 64), Reader, "anvil"}, false},
		{"no name", "PostgreSQL takes none", Login{"", Reader, "anvil"}, false},
		{"no password", "everybody could log in, or nobody", Login{"bench", Reader, ""}, false},
		{"a group of its own", "there are three", Login{"bench", "owner", "anvil"}, false},
		{"the name of a group", "it would be one of ours", Login{"dullred_writer", Writer, "anvil"}, false},
		{"a name of the server", "pg_ is reserved", Login{"pg_bench", Writer, "anvil"}, false},
	}
	for _, c := range cases {
		require.NotEmpty(t, c.reason)
		if err := c.login.check(); c.fine {
			require.NoError(t, err, c.name)
		} else {
			require.ErrorIs(t, err, ErrLogin, c.name)
			require.NotContains(t, err.Error(), "anvil")
		}
	}
}
