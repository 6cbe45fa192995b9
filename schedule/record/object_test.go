package record

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A wrong sum would not open a doctored file, only make every opening slow.
func TestSums(t *testing.T) {
	require.Len(t, sums, len(migrations)+1)
	for version := 1; version < len(sums); version++ {
		made, err := objectsMade(migrations[:version])
		require.NoError(t, err)
		require.Equal(t, sumOf(made), sums[version], "version %d", version)
	}
}
