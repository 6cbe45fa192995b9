package record

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

func pieceID(n int) string { return fmt.Sprintf("00000000-0000-7000-8000-%012d", n) }

// fill stores rounds over the pieces, each piece once a round, as a workshop would.
func fill(tb testing.TB, r *Record, pieces, rounds int) {
	for range rounds {
		var rows []Row
		for piece := range pieces {
			row := sample()
			row.Piece = pieceID(piece)
			rows = append(rows, row)
		}
		require.NoError(tb, r.Append(rows...))
	}
}
