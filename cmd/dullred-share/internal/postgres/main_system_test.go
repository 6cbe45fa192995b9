//go:build system && linux

package postgres_test

import (
	"os"
	"testing"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }

// school is a prepared database with benches.
type school struct{ pgtest.School }

func newSchool(t testing.TB, s *pgtest.Server) school {
	t.Helper()
	return school{pgtest.NewSchool(t, s)}
}

// bench makes a role that writes for a bench, and opens the school as it.
func (s school) bench(t testing.TB, bench string) *postgres.Store {
	t.Helper()
	as := postgres.Writer
	if bench == "" {
		as = postgres.Reader
	}
	c := s.Role(t, as)
	c.Bench = bench
	return pgtest.Opened(t, c)
}

func TestPostgreSQL(t *testing.T) {
	sharetest.Run(t, func(t testing.TB) sharetest.Open {
		s, configs := newSchool(t, pgtest.Common(t)), map[string]postgres.Config{}
		return func(t testing.TB, bench string) share.Store {
			c, known := configs[bench]
			if !known {
				c = s.Role(t, map[bool]string{true: postgres.Reader, false: postgres.Writer}[bench == ""])
				c.Bench = bench
				configs[bench] = c
			}
			return pgtest.Opened(t, c)
		}
	})
}
