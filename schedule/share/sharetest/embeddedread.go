package sharetest

import (
	"context"
	"slices"

	"dullred/schedule"
	"dullred/schedule/share"
)

func (e embedded) After(ctx context.Context, cursor int64, limit int) (share.Page, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if err := ctx.Err(); err != nil {
		return share.Page{}, err
	}
	if cursor > int64(len(e.line)) {
		return share.Page{}, share.ErrRewound
	}
	p := share.Page{Record: e.id, Next: cursor}
	for _, id := range e.line[cursor:] {
		if p.More = id != "" && len(p.Rows)+len(p.Labels) == limit; p.More {
			break
		}
		p.Next++
		l, is, err := e.labelOf(id)
		if err != nil {
			return share.Page{}, err
		}
		if is {
			p.Labels = append(p.Labels, l)
			continue
		}
		rows, err := e.r.Rows(id)
		if err != nil {
			return share.Page{}, err
		}
		for _, r := range rows {
			p.Rows = append(p.Rows, schedule.Row(r))
		}
	}
	return p, nil
}

func (e embedded) stored() (rows []schedule.Row, err error) {
	for r, err := range e.r.Stored() {
		if err != nil {
			return nil, err
		}
		rows = append(rows, schedule.Row(r))
	}
	return rows, nil
}

func (e embedded) Sums(ctx context.Context) (map[string]share.Sum, error) {
	rows, err := e.stored()
	if err != nil {
		return nil, err
	}
	return share.SumsOf(rows), ctx.Err()
}

func (e embedded) Total(ctx context.Context) (sum share.Sum, err error) {
	rows, err := e.stored()
	if err != nil {
		return sum, err
	}
	for _, r := range rows {
		sum = sum.Add(r)
	}
	return sum, ctx.Err()
}

func (e embedded) Pieces(_ context.Context, ids ...string) (b share.Batch, err error) {
	for _, id := range slices.Compact(slices.Sorted(slices.Values(ids))) {
		rows, err := e.r.Piece(id)
		if err != nil {
			return b, err
		}
		for _, r := range rows {
			b.Rows = append(b.Rows, schedule.Row(r))
		}
		l, known, err := e.labelOf(id)
		if err != nil {
			return b, err
		}
		if known {
			b.Labels = append(b.Labels, l)
		}
	}
	if len(b.Rows) > 0 {
		b.Rows = byID(b.Rows)
	}
	return b, nil
}

func (e embedded) Wait(ctx context.Context, cursor int64) error {
	for {
		e.mu.Lock()
		there, grown := cursor < int64(len(e.line)), e.grown
		e.mu.Unlock()
		if there {
			return nil
		}
		select {
		case <-grown:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}
