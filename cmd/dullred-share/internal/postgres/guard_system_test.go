//go:build system && linux

package postgres_test

import (
	"context"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

// dial is a connection without this program between: what a bench could do that is not
// run by us.
func dial(t testing.TB, c postgres.Config) *pgx.Conn {
	t.Helper()
	config, err := pgx.ParseConfig(c.URL)
	require.NoError(t, err)
	secret, err := os.ReadFile(c.PasswordFile)
	require.NoError(t, err)
	config.Password = strings.TrimSpace(string(secret))
	conn, err := pgx.ConnectConfig(t.Context(), config)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, conn.Close(context.Background())) })
	return conn
}

// codeOf is the SQLSTATE of an error of the server.
func codeOf(err error) string {
	if e, ok := errors.AsType[*pgconn.PgError](err); ok {
		return e.Code
	}
	return ""
}

const (
	noRight   = "42501" // insufficient_privilege
	onlyAdded = "DR002" // ours
	forged    = "DR001" // ours
)

// TestEntriesAreOnlyAdded tries to change them past this program as each role.
func TestEntriesAreOnlyAdded(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	bench := sharetest.NewID()
	st := s.bench(t, bench)
	rows := sharetest.Notes(3, bench, sharetest.NewID())
	_, err := st.Send(t.Context(), share.Batch{Rows: rows})
	require.NoError(t, err)

	roles := map[string]struct {
		config postgres.Config
		code   string
	}{
		postgres.Writer:  {s.Role(t, postgres.Writer), noRight},
		postgres.Reader:  {s.Role(t, postgres.Reader), noRight},
		postgres.Teacher: {s.Role(t, postgres.Teacher), noRight},
		"owner":          {s.Owner(), onlyAdded},
	}
	attempts := []string{
		`UPDATE dullred.entry SET body = ''`,
		`UPDATE dullred.entry SET seq = 7 WHERE false`,
		`DELETE FROM dullred.entry`,
		`DELETE FROM dullred.entry WHERE id = '` + rows[0].ID + `'`,
		`TRUNCATE dullred.entry`,
		`TRUNCATE dullred.entry CASCADE`,
		`INSERT INTO dullred.entry SELECT * FROM dullred.entry ON CONFLICT (id) DO UPDATE SET body = 'changed'`,
		`MERGE INTO dullred.entry USING dullred.head ON true WHEN MATCHED THEN DELETE`,
	}
	for role, as := range roles {
		conn := dial(t, as.config)
		for _, attempt := range attempts {
			_, err := conn.Exec(t.Context(), attempt)
			require.Equal(t, as.code, codeOf(err), "%s: %s: %v", role, attempt, err)
		}
	}
	owner := dial(t, s.Owner())
	_, err = owner.Exec(t.Context(), `SET session_replication_role = replica; DELETE FROM dullred.entry`, pgx.QueryExecModeSimpleProtocol)
	require.Equal(t, onlyAdded, codeOf(err), "not even where triggers are out of use: %v", err)
	p, err := st.After(t.Context(), 0, 10)
	require.NoError(t, err)
	require.Equal(t, rows, p.Rows)
}

// TestNobodyWritesToATable tries all that is in the schema.
func TestNobodyWritesToATable(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	tables := []string{"version", "head", "bench", "entry", "piece_sum", "label", "forgotten"}
	calls := []struct{ name, text string }{
		{"claim", `SELECT dullred.claim('0198f4b6-5c1e-7d2a-9b40-6f1a2d3c4e5f')`},
		{"send", `SELECT dullred.send('{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}', '{}')`},
		{"release", `SELECT dullred.release('0198f4b6-5c1e-7d2a-9b40-6f1a2d3c4e5f')`},
		{"forget", `SELECT dullred.forget('0198f4b6-5c1e-7d2a-9b40-6f1a2d3c4e5f')`},
		{"put_label", `SELECT dullred.put_label(gen_random_uuid(), gen_random_uuid(), 'piece', 'spoon', 1)`},
		{"free_text", `SELECT dullred.free_text(gen_random_uuid(), 'piece', 'spoon')`},
		{"a new table", `CREATE TABLE dullred.mine (n int)`},
	}
	may := map[string][]string{postgres.Writer: {"claim", "send"}, postgres.Reader: nil, postgres.Teacher: {"release", "forget"}}
	for role, allowed := range may {
		conn := dial(t, s.Role(t, role))
		for _, table := range tables {
			_, err := conn.Exec(t.Context(), `SELECT * FROM dullred.`+table)
			require.NoError(t, err, "%s reads %s", role, table)
			for _, attempt := range []string{`DELETE FROM dullred.` + table, `TRUNCATE dullred.` + table, `INSERT INTO dullred.` + table + ` DEFAULT VALUES`,
				`DO $$ BEGIN LOCK TABLE dullred.` + table + ` IN EXCLUSIVE MODE; END $$`, `DROP TABLE dullred.` + table} {
				_, err := conn.Exec(t.Context(), attempt)
				require.Equal(t, noRight, codeOf(err), "%s: %s: %v", role, attempt, err)
			}
		}
		for _, call := range calls {
			_, err := conn.Exec(t.Context(), call.text)
			if slices.Contains(allowed, call.name) {
				require.NoError(t, err, "%s: %s", role, call.name)
				continue
			}
			require.Equal(t, noRight, codeOf(err), "%s: %s: %v", role, call.name, err)
		}
	}
}

// TestForgedBench goes past this program: a bench that was tampered with.
func TestForgedBench(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	window, door := sharetest.NewID(), sharetest.NewID()
	victim := s.bench(t, window)
	_, err := victim.Send(t.Context(), share.Batch{Labels: []share.Label{{ID: window, Class: "bench", Text: "window"}}})
	require.NoError(t, err)

	c := s.Role(t, postgres.Writer)
	conn := dial(t, c)
	_, err = conn.Exec(t.Context(), `SELECT dullred.claim($1)`, window)
	require.Equal(t, forged, codeOf(err), "a bench that has a role: %v", err)
	require.Equal(t, forged, codeOf(postgres.SendPast(t.Context(), conn, share.Batch{})), "before it has claimed one")
	_, err = conn.Exec(t.Context(), `SELECT dullred.claim($1)`, door)
	require.NoError(t, err)
	_, err = conn.Exec(t.Context(), `SELECT dullred.claim($1)`, sharetest.NewID())
	require.Equal(t, forged, codeOf(err), "a second bench: %v", err)

	piece := sharetest.NewID()
	for name, b := range map[string]share.Batch{
		"an entry":              {Rows: append(sharetest.Notes(1, door, piece), sharetest.Note(window, piece))},
		"of a bench of nobody":  {Rows: []schedule.Row{sharetest.Note(sharetest.NewID(), piece)}},
		"a name":                {Labels: []share.Label{{ID: window, Class: "bench", Text: "door"}}},
		"a name as of a piece":  {Labels: []share.Label{{ID: window, Class: "piece", Text: "door"}}},
		"an entry without one":  {Rows: []schedule.Row{{ID: sharetest.NewID(), Hand: door, Piece: piece, Kind: "note", Version: 1}}},
		"a name, with an entry": {Rows: sharetest.Notes(1, door, piece), Labels: []share.Label{{ID: window, Class: "bench", Text: "door"}}},
	} {
		require.Equal(t, forged, codeOf(postgres.SendPast(t.Context(), conn, b)), name)
	}
	_, err = conn.Exec(t.Context(), `SET ROLE dullred_writer`)
	require.NoError(t, err)
	require.Equal(t, forged, codeOf(postgres.SendPast(t.Context(), conn, share.Batch{Rows: []schedule.Row{sharetest.Note(window, piece)}})), "as the group")
	_, err = conn.Exec(t.Context(), `SET SESSION AUTHORIZATION `+pgtest.Owner)
	require.Equal(t, noRight, codeOf(err))

	p, err := victim.After(t.Context(), 0, 100)
	require.NoError(t, err)
	require.Empty(t, p.Rows)
	require.Equal(t, []share.Label{{ID: window, Class: "bench", Text: "window"}}, p.Labels)

	c.Bench = window
	_, err = postgres.Open(t.Context(), c)
	require.ErrorIs(t, err, share.ErrForged)
	require.ErrorContains(t, err, "does not belong to the role")
}

// TestNameThatWasTakenBefore: somebody names a piece with the id that a bench then has.
func TestNameThatWasTakenBefore(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	window, door := sharetest.NewID(), sharetest.NewID()
	_, err := s.bench(t, door).Send(t.Context(), share.Batch{Labels: []share.Label{{ID: window, Class: "piece", Text: "spoon"}}})
	require.NoError(t, err)
	st, own := s.bench(t, window), share.Label{ID: window, Class: "bench", Text: "window"}
	receipt, err := st.Send(t.Context(), share.Batch{Labels: []share.Label{own}})
	require.NoError(t, err)
	require.Equal(t, share.Receipt{}, receipt)
	p, err := st.After(t.Context(), 0, 10)
	require.NoError(t, err)
	require.Equal(t, []share.Label{own}, p.Labels)
}
