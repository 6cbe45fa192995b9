//go:build system && linux

package pgtest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/postgres"
)

// RolePassword is the password of every role of a School.
const RolePassword = "three blows, then anneal"

// School is a database that was prepared.
type School struct {
	*Server
	Name string
}

// NewSchool prepares a database on a server.
func NewSchool(t testing.TB, s *Server) School {
	t.Helper()
	sc := School{s, s.Database(t)}
	_, _, err := postgres.Prepare(t.Context(), sc.Owner())
	require.NoError(t, err)
	return sc
}

// Owner is how the owner reaches it.
func (s School) Owner() postgres.Config {
	return postgres.Config{URL: s.URL(Owner, s.Name), PasswordFile: s.PasswordFile}
}

// Role makes a role and gives how it reaches the school.
func (s School) Role(t testing.TB, as string) postgres.Config {
	t.Helper()
	name := Name(as)
	require.NoError(t, postgres.AddRole(t.Context(), s.Owner(), postgres.Login{Name: name, As: as, Password: RolePassword}))
	return postgres.Config{URL: s.URL(name, s.Name), PasswordFile: Secret(t, RolePassword)}
}

// Opened is the shared record of a config, until the test has ended.
func Opened(t testing.TB, c postgres.Config) *postgres.Store {
	t.Helper()
	st, err := postgres.Open(t.Context(), c)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, st.Close()) })
	return st
}
