//go:build system && linux

package postgres_test

import (
	"context"
	"strings"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

func TestPrepareAgain(t *testing.T) {
	s := pgtest.Common(t)
	sc := school{pgtest.School{Server: s, Name: s.Database(t)}}
	from, to, err := postgres.Prepare(t.Context(), sc.Owner())
	require.NoError(t, err)
	require.Equal(t, []int{0, 1}, []int{from, to})
	from, to, err = postgres.Prepare(t.Context(), sc.Owner())
	require.NoError(t, err)
	require.Equal(t, []int{1, 1}, []int{from, to})
}

func TestPrepareAtOnce(t *testing.T) {
	s := pgtest.Common(t)
	sc := school{pgtest.School{Server: s, Name: s.Database(t)}}
	var all sync.WaitGroup
	failed := make([]error, 4)
	for i := range failed {
		all.Go(func() { _, _, failed[i] = postgres.Prepare(t.Context(), sc.Owner()) })
	}
	all.Wait()
	for _, err := range failed {
		require.NoError(t, err)
	}
}

// TestStepThatFails leaves the version before it.
func TestStepThatFails(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	steps, err := postgres.Steps()
	require.NoError(t, err)
	s.As(t, s.Name, func(ctx context.Context, conn *pgx.Conn) error {
		_, _, err := postgres.Climb(ctx, conn, append(steps, `CREATE TABLE dullred.more (n int); SELECT 1 / 0`))
		require.ErrorContains(t, err, "division by zero")
		_, err = conn.Exec(ctx, `SELECT * FROM dullred.more`)
		require.ErrorContains(t, err, "does not exist")
		return nil
	})
	from, to, err := postgres.Prepare(t.Context(), s.Owner())
	require.NoError(t, err)
	require.Equal(t, []int{1, 1}, []int{from, to})
}

func TestOtherVersions(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	reader := s.Role(t, postgres.Reader)
	s.Exec(t, s.Name, `UPDATE dullred.version SET n = n + 1`)
	_, err := postgres.Open(t.Context(), reader)
	require.ErrorIs(t, err, share.ErrNewer)
	_, _, err = postgres.Prepare(t.Context(), s.Owner())
	require.ErrorIs(t, err, share.ErrNewer, "never backward")
	s.Exec(t, s.Name, `UPDATE dullred.version SET n = 0`)
	_, err = postgres.Open(t.Context(), reader)
	require.ErrorIs(t, err, share.ErrOlder)
	require.ErrorContains(t, err, "this program needs")
}

func TestNotPrepared(t *testing.T) {
	s := pgtest.Common(t)
	reader := newSchool(t, s).Role(t, postgres.Reader)
	empty := s.Database(t)
	reader.URL = strings.Replace(reader.URL, "/school_", "/"+empty+"?application_name=", 1)
	_, err := postgres.Open(t.Context(), reader)
	require.ErrorIs(t, err, share.ErrNotShared)
	require.ErrorContains(t, err, "was not prepared")
}

func TestWhoMayPrepare(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	s.Exec(t, s.Name, `DROP SCHEMA dullred CASCADE`)
	for _, as := range []string{postgres.Writer, postgres.Reader, postgres.Teacher} {
		_, _, err := postgres.Prepare(t.Context(), s.Role(t, as))
		require.ErrorIs(t, err, share.ErrRights, as)
		require.NotContains(t, err.Error(), pgtest.RolePassword)
	}
}

func TestEncodingThatKeepsNotEveryText(t *testing.T) {
	s := pgtest.Common(t)
	name := pgtest.Name("latin")
	s.Exec(t, "postgres", `CREATE DATABASE `+name+` ENCODING 'LATIN1' LOCALE 'C' TEMPLATE template0`)
	_, _, err := postgres.Prepare(t.Context(), school{pgtest.School{Server: s, Name: name}}.Owner())
	require.ErrorIs(t, err, share.ErrNotShared)
	require.ErrorContains(t, err, "must be UTF8")
}

// TestEveryLetterFolds compares the whole of Unicode, letter by letter.
func TestEveryLetterFolds(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	var letters []string
	for r := rune(1); r <= 0x10ffff; r++ {
		if r < 0xd800 || r > 0xdfff {
			letters = append(letters, string(r))
		}
	}
	folded := make([]string, len(letters))
	for i, l := range letters {
		folded[i] = share.Fold(l)
	}
	s.As(t, s.Name, func(ctx context.Context, conn *pgx.Conn) error {
		var wrong []string
		err := conn.QueryRow(ctx, `SELECT array(SELECT l FROM unnest($1::text[], $2::text[]) AS u(l, f)
			WHERE dullred.fold(l) <> f OR l < U&'\0080' AND dullred.fold(l || 'ß') <> f || 'ß')`, letters, folded).Scan(&wrong)
		require.Empty(t, wrong)
		return err
	})
}

// TestRecordsAreToldApart: a database that was made anew is another record.
func TestRecordsAreToldApart(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	reader := pgtest.Opened(t, s.Role(t, postgres.Reader))
	before, err := reader.After(t.Context(), 0, 1)
	require.NoError(t, err)
	s.Exec(t, s.Name, `DROP SCHEMA dullred CASCADE`)
	_, err = reader.After(t.Context(), 0, 1)
	require.ErrorIs(t, err, share.ErrNotShared)
	_, _, err = postgres.Prepare(t.Context(), s.Owner())
	require.NoError(t, err)
	after, err := reader.After(t.Context(), 0, 1)
	require.NoError(t, err)
	require.NotEqual(t, before.Record, after.Record)
}

func TestTeacher(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	window, hand := sharetest.NewID(), sharetest.NewID()
	old := s.bench(t, window)
	label := share.Batch{Labels: []share.Label{{ID: hand, Class: "hand", Text: "left"}}}
	_, err := old.Send(t.Context(), label)
	require.NoError(t, err)
	require.ErrorIs(t, old.Forget(t.Context(), hand), share.ErrRights)
	require.ErrorIs(t, old.Release(t.Context(), window), share.ErrRights)

	teacher := pgtest.Opened(t, s.Role(t, postgres.Teacher))
	require.NoError(t, teacher.Forget(t.Context(), hand))
	receipt, err := old.Send(t.Context(), label)
	require.NoError(t, err)
	require.Equal(t, share.Receipt{Forgotten: []string{hand}}, receipt)
	p, err := old.After(t.Context(), 0, 10)
	require.NoError(t, err)
	require.Empty(t, p.Labels)
	require.EqualValues(t, 1, p.Next)

	next := s.Role(t, postgres.Writer)
	next.Bench = window
	_, err = postgres.Open(t.Context(), next)
	require.ErrorIs(t, err, share.ErrForged)
	require.NoError(t, teacher.Release(t.Context(), window))
	_, err = old.Send(t.Context(), share.Batch{Rows: sharetest.Notes(1, window, hand)})
	require.ErrorIs(t, err, share.ErrForged, "the role that had it has none now")
	st := pgtest.Opened(t, next)
	_, err = st.Send(t.Context(), share.Batch{Rows: sharetest.Notes(1, window, hand)})
	require.NoError(t, err)
	benches, err := teacher.Benches(t.Context())
	require.NoError(t, err)
	require.Equal(t, []postgres.Bench{{ID: window, Role: pgRole(next), Entries: 1, Last: benches[0].Last}}, benches)
	require.False(t, benches[0].Last.IsZero())
}
