package board

import (
	"context"
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
	"dullred/schedule/board"
	"dullred/schedule/share"
)

// How much is read: rows and labels at once, whole pieces at once, and rows from the end
// of the line to begin with. Thirty benches with 500 entries each in an evening fill three
// quarters of that.
const (
	pageSize = 5_000
	atOnce   = 50
	window   = 20_000
)

// begin finds where to begin to read: so far before the end that the last rows are in it.
// Labels have places in the line too, so that it may be a little further.
func (f *Feed) begin(ctx context.Context, s share.Store) error {
	total, err := s.Total(ctx)
	if err != nil {
		return err
	}
	f.board, f.record, f.cursor, f.begun = board.New(), "", max(0, total.Count-window), time.Now()
	return nil
}

// catchUp reads what is new, and the whole of what comes onto the board.
func (f *Feed) catchUp(ctx context.Context, s share.Store) error {
	for more := true; more; {
		p, err := s.After(ctx, f.cursor, pageSize)
		if err != nil {
			return err
		}
		if f.record != "" && p.Record != f.record {
			return fmt.Errorf("%w: it is another one than before", share.ErrRewound)
		}
		f.board.Take(labels(p.Labels), p.Rows)
		f.record, f.cursor, more = p.Record, p.Next, p.More
	}
	return f.complete(ctx, s)
}

// complete reads what the board wants, until it wants no more.
func (f *Feed) complete(ctx context.Context, s share.Store) error {
	for {
		ids := f.board.Wants(f.now())
		if len(ids) == 0 {
			return nil
		}
		for some := range slices.Chunk(ids, atOnce) {
			b, err := s.Pieces(ctx, some...)
			if err != nil {
				return err
			}
			f.take(some, b)
		}
	}
}

// take gives the board the whole of some pieces.
func (f *Feed) take(ids []string, b share.Batch) {
	of := map[string][]schedule.Row{}
	for _, r := range b.Rows {
		of[r.Piece] = append(of[r.Piece], r)
	}
	for i, id := range ids {
		var names []board.Label
		if i == 0 {
			names = labels(b.Labels)
		}
		f.board.Whole(id, names, of[id])
	}
}

func labels(all []share.Label) (out []board.Label) {
	for _, l := range all {
		out = append(out, board.Label(l))
	}
	return out
}
