package postgres

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"dullred/schedule"
	"dullred/schedule/share"
)

const callSend = `SELECT fresh, refused, fates, theres FROM dullred.send(
	$1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22)`

// Send stores a batch in one statement, and so in one transaction.
func (s *Store) Send(ctx context.Context, b share.Batch) (share.Receipt, error) {
	if err := ctx.Err(); err != nil {
		return share.Receipt{}, err
	}
	if s.at.Bench == "" {
		return share.Receipt{}, fmt.Errorf("%w: who only reads sends nothing", share.ErrRights)
	}
	if err := b.Check(s.at.Bench); err != nil {
		return share.Receipt{}, err
	}
	var answer answer
	err := s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) error {
		if err := answer.ask(ctx, conn, b); err != nil {
			return err
		}
		return answer.vet(b.Labels)
	})
	if err != nil {
		return share.Receipt{}, err
	}
	return answer.receipt(b.Labels), nil
}

// answer is what dullred.send answers: of each label what became of it.
type answer struct {
	fresh         int
	refused       []string
	fates, theres []string
}

func (a *answer) ask(ctx context.Context, conn *pgx.Conn, b share.Batch) error {
	args := append(columns(b.Rows), labelColumns(b.Labels)...)
	return conn.QueryRow(ctx, callSend, args...).Scan(&a.fresh, &a.refused, &a.fates, &a.theres)
}

func (a *answer) receipt(labels []share.Label) share.Receipt {
	done := share.Receipt{Fresh: a.fresh}
	if len(a.refused) > 0 {
		done.Refused = a.refused
	}
	for i, l := range labels {
		fate, class, _ := strings.Cut(a.fates[i], " ")
		switch fate {
		case "renamed":
			done.Renamed = append(done.Renamed, share.Label{ID: l.ID, Class: l.Class, Text: a.theres[i]})
		case "stayed":
			done.Stayed = append(done.Stayed, share.Label{ID: l.ID, Class: class, Text: a.theres[i]})
		case "forgotten":
			done.Forgotten = append(done.Forgotten, l.ID)
		}
	}
	return done
}

// columns are rows as arrays, one of each column, in the order of callSend.
func columns(rows []schedule.Row) []any {
	type r = schedule.Row
	return []any{
		of(rows, func(x r) pgtype.UUID { return id(x.ID) }),
		of(rows, func(x r) int64 { return x.At }), of(rows, func(x r) int64 { return x.Written }),
		of(rows, func(x r) pgtype.UUID { return id(x.Bench) }), of(rows, func(x r) pgtype.UUID { return id(x.Hand) }),
		of(rows, func(x r) pgtype.UUID { return id(x.Piece) }), of(rows, func(x r) string { return x.Zones }),
		of(rows, func(x r) string { return x.Kind }), of(rows, func(x r) int64 { return x.Version }),
		of(rows, func(x r) string { return x.Process }), of(rows, func(x r) int64 { return x.Count }),
		of(rows, func(x r) string { return x.Shape }),
		of(rows, func(x r) float64 { return x.Thick }), of(rows, func(x r) float64 { return x.Width }),
		of(rows, func(x r) float64 { return x.Diameter }), of(rows, func(x r) float64 { return x.Ring }),
		of(rows, func(x r) float64 { return x.Length }), of(rows, func(x r) float64 { return x.Temp }),
		of(rows, func(x r) string { return x.Body }),
	}
}

func labelColumns(labels []share.Label) []any {
	return []any{
		of(labels, func(l share.Label) pgtype.UUID { return id(l.ID) }),
		of(labels, func(l share.Label) string { return l.Class }),
		of(labels, func(l share.Label) string { return l.Text }),
	}
}

// of is one column of all. It is never nil, which would be NULL.
func of[T, V any](all []T, column func(T) V) []V {
	values := make([]V, len(all))
	for i, x := range all {
		values[i] = column(x)
	}
	return values
}

// id is an id that was checked before.
func id(text string) (u pgtype.UUID) {
	_ = u.Scan(text) // what fails leaves NULL, which the server refuses
	return u
}
