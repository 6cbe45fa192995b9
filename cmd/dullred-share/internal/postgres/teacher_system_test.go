//go:build system && linux

package postgres_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

// TestBenches: with a name and without, with entries and without, with a role and without.
func TestBenches(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	window, door, hand := sharetest.NewID(), sharetest.NewID(), sharetest.NewID()
	rows := sharetest.Notes(3, window, hand)
	_, err := s.bench(t, window).Send(t.Context(), share.Batch{Rows: rows, Labels: []share.Label{{ID: window, Class: "bench", Text: "Window"}}})
	require.NoError(t, err)
	_, err = s.bench(t, door).Sums(t.Context())
	require.NoError(t, err)
	teacher := pgtest.Opened(t, s.Role(t, postgres.Teacher))
	require.NoError(t, teacher.Release(t.Context(), window))

	all, err := teacher.Benches(t.Context())
	require.NoError(t, err)
	require.Len(t, all, 2)
	last := max(rows[0].Written, rows[1].Written, rows[2].Written)
	require.Equal(t, postgres.Bench{ID: window, Name: "Window", Entries: 3, Last: time.UnixMicro(last).UTC()}, all[0])
	require.NotEmpty(t, all[1].Role)
	all[1].Role = ""
	require.Equal(t, postgres.Bench{ID: door}, all[1], "a bench that only came")
}

// TestNamed finds a label as people write it, of its class alone.
func TestNamed(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	bench := sharetest.NewID()
	hand := share.Label{ID: sharetest.NewID(), Class: "hand", Text: "Straße 7 Æ"}
	_, err := s.bench(t, bench).Send(t.Context(), share.Batch{Labels: []share.Label{hand}})
	require.NoError(t, err)
	teacher := pgtest.Opened(t, s.Role(t, postgres.Teacher))
	for _, c := range []struct {
		class, text, reason string
		found               bool
	}{
		{"hand", "Straße 7 Æ", "as it is", true},
		{"hand", "sTRAßE 7 æ", "upper and lower case are the same", true},
		{"piece", "Straße 7 Æ", "a piece may be called like a hand", false},
		{"hand", "Straße 7", "a part is another name", false},
	} {
		l, found, err := teacher.Named(t.Context(), c.class, c.text)
		require.NoError(t, err)
		require.Equal(t, c.found, found, c.reason)
		if found {
			require.Equal(t, hand, l, c.reason)
		}
	}
	require.NoError(t, teacher.Forget(t.Context(), hand.ID))
	_, found, err := teacher.Named(t.Context(), "hand", hand.Text)
	require.NoError(t, err)
	require.False(t, found, "it was forgotten")
}

// TestReleasedByMistake: who still runs takes the bench back when it next sends.
func TestReleasedByMistake(t *testing.T) {
	s := newSchool(t, pgtest.Common(t))
	bench := sharetest.NewID()
	st := s.bench(t, bench)
	teacher := pgtest.Opened(t, s.Role(t, postgres.Teacher))
	require.NoError(t, teacher.Release(t.Context(), bench))
	_, err := st.Send(t.Context(), share.Batch{Rows: sharetest.Notes(1, bench, bench)})
	require.ErrorIs(t, err, share.ErrForged)
	_, err = st.Send(t.Context(), share.Batch{Rows: sharetest.Notes(1, bench, bench)})
	require.NoError(t, err, "over another connection")
}
