package exchange_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/exchange"
)

// FuzzRead: what Read takes is what Write writes, and what it refuses has a line.
func FuzzRead(f *testing.F) {
	text := written(f, exchange.Export{Labels: []exchange.Label{{ID: idPiece, Class: "piece", Text: "spoon"}},
		Rows: []schedule.Row{note(idOne, "one"), note(idTwo, "two")}})
	f.Add(text)
	f.Add(written(f, exchange.Export{}))
	f.Add([]byte(resealed(contentsOf(text)[:3]...)))
	f.Add([]byte("{\"format\":\"dullred records\",\"version\":2}\n"))
	f.Fuzz(func(t *testing.T, in []byte) {
		e, err := exchange.Read(bytes.NewReader(in))
		if err != nil {
			_, has := errors.AsType[*exchange.LineError](err)
			require.True(t, has, err)
			require.Less(t, strings.IndexFunc(err.Error(), unicode.IsControl), 0, "%q", err)
			require.Less(t, len(err.Error()), 1000)
			return
		}
		require.Equal(t, string(in), string(written(t, *e)))
	})
}
