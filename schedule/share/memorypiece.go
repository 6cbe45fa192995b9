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

func (v view) Pieces(ctx context.Context, ids ...string) (Batch, error) {
	v.m.mu.Lock()
	defer v.m.mu.Unlock()
	var b Batch
	for _, r := range v.m.rows {
		if slices.Contains(ids, r.Piece) {
			b.Rows = append(b.Rows, r)
		}
	}
	slices.SortFunc(b.Rows, func(x, y schedule.Row) int { return strings.Compare(x.ID, y.ID) })
	for _, id := range slices.Compact(slices.Sorted(slices.Values(ids))) {
		if l, known := v.m.labels[id]; known {
			b.Labels = append(b.Labels, l.Label)
		}
	}
	return b, ctx.Err()
}
