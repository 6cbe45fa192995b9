package sharetest_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule/record"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

func TestEmbedded(t *testing.T) {
	sharetest.Run(t, func(t testing.TB) sharetest.Open {
		r, err := record.Open(filepath.Join(t.TempDir(), "record.db"))
		require.NoError(t, err)
		t.Cleanup(func() { require.NoError(t, r.Close()) })
		e := sharetest.NewEmbedded(r)
		return func(_ testing.TB, bench string) share.Store { return e.As(bench) }
	})
}
