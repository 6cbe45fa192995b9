package share

import (
	"context"
	"slices"
	"strings"

	"dullred/schedule"
)

func (v view) Total(ctx context.Context) (Sum, error) {
	v.m.mu.Lock()
	defer v.m.mu.Unlock()
	var all Sum
	for _, s := range v.m.sums {
		all = all.plus(s)
	}
	return all, ctx.Err()
}

func (v view) Piece(ctx context.Context, id string) (Batch, error) {
	v.m.mu.Lock()
	defer v.m.mu.Unlock()
	var b Batch
	for _, r := range v.m.rows {
		if r.Piece == id {
			b.Rows = append(b.Rows, r)
		}
	}
	slices.SortFunc(b.Rows, func(x, y schedule.Row) int { return strings.Compare(x.ID, y.ID) })
	if l, known := v.m.labels[id]; known {
		b.Labels = append(b.Labels, l.Label)
	}
	return b, ctx.Err()
}
