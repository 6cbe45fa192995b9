package record

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The same pieces, bodies and outlines are found by looking at every entry.
func TestBetweenBodiesAndOutlines(t *testing.T) {
	r := openNew(t)
	var rows []Row
	rapid.Check(t, func(rt *rapid.T) {
		row := someRow(rt)
		require.NoError(rt, r.Append(row))
		rows = append(rows, row)
		q := someSearch(rt)

		pieces, err := r.Between(q.Span)
		require.NoError(rt, err)
		require.Equal(rt, piecesBetween(rows, q.Span), pieces)

		kind := rapid.SampledFrom([]string{"note", "pass", "crack seen"}).Draw(rt, "bodies of")
		bodies, err := collect(r.Bodies(kind))
		require.NoError(rt, err)
		require.Equal(rt, bodiesOf(rows, kind), bodies)

		outlines, err := collect(r.Outlines(q.Kinds...))
		require.NoError(rt, err)
		require.Equal(rt, outlinesOf(rows, q.Kinds), outlines)
	})
}

func piecesBetween(rows []Row, s Span) (pieces []string) {
	for _, row := range lookedFor(rows, Search{Span: s}) {
		if row.Piece != "" {
			pieces = append(pieces, row.Piece)
		}
	}
	slices.Sort(pieces)
	return slices.Compact(pieces)
}

func bodiesOf(rows []Row, kind string) (bodies []Row) {
	for _, row := range lookedFor(rows, Search{Kinds: []string{kind}}) {
		if row.Body != "" {
			bodies = append(bodies, Row{ID: row.ID, At: row.At, Hand: row.Hand, Piece: row.Piece, Kind: row.Kind, Body: row.Body})
		}
	}
	return bodies
}

func outlinesOf(rows []Row, kinds []string) (outlines []Row) {
	for _, row := range rows { // they were stored in the order of their ids
		if slices.Contains(kinds, row.Kind) {
			outlines = append(outlines, Row{ID: row.ID, At: row.At, Bench: row.Bench, Hand: row.Hand, Piece: row.Piece,
				Zones: row.Zones, Kind: row.Kind, Count: row.Count, Body: row.Body})
		}
	}
	return outlines
}
