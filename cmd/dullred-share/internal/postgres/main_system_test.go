//go:build system && linux

package postgres_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }

// secret is the password of every role in these tests.
const secret = "three blows, then anneal"

// school is a database that was prepared.
type school struct {
	*pgtest.Server
	name string
}

func newSchool(t testing.TB, s *pgtest.Server) school {
	t.Helper()
	sc := school{s, s.Database(t)}
	_, _, err := postgres.Prepare(t.Context(), sc.owner())
	require.NoError(t, err)
	return sc
}

// owner is how the owner reaches it.
func (s school) owner() postgres.Config {
	return postgres.Config{URL: s.URL(pgtest.Owner, s.name), PasswordFile: s.PasswordFile}
}

// role makes a role and gives how it reaches the school.
func (s school) role(t testing.TB, as string) postgres.Config {
	t.Helper()
	name := pgtest.Name(as)
	require.NoError(t, postgres.AddRole(t.Context(), s.owner(), postgres.Login{Name: name, As: as, Password: secret}))
	return postgres.Config{URL: s.URL(name, s.name), PasswordFile: pgtest.Secret(t, secret)}
}

// bench makes a role that writes for a bench, and opens the school as it.
func (s school) bench(t testing.TB, bench string) *postgres.Store {
	t.Helper()
	as := postgres.Writer
	if bench == "" {
		as = postgres.Reader
	}
	c := s.role(t, as)
	c.Bench = bench
	return opened(t, c)
}

func opened(t testing.TB, c postgres.Config) *postgres.Store {
	t.Helper()
	st, err := postgres.Open(t.Context(), c)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, st.Close()) })
	return st
}

func TestPostgreSQL(t *testing.T) {
	sharetest.Run(t, func(t testing.TB) sharetest.Open {
		s, configs := newSchool(t, pgtest.Common(t)), map[string]postgres.Config{}
		return func(t testing.TB, bench string) share.Store {
			c, known := configs[bench]
			if !known {
				c = s.role(t, map[bool]string{true: postgres.Reader, false: postgres.Writer}[bench == ""])
				c.Bench = bench
				configs[bench] = c
			}
			return opened(t, c)
		}
	})
}
