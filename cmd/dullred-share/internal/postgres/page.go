package postgres

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"dullred/schedule"
	"dullred/schedule/share"
)

// rowColumns are the columns of an entry in the order of the fields of schedule.Row.
const rowColumns = `id, at, written, bench, hand, piece, zones, kind, version, process, coalesce(count, 0), shape,
	coalesce(thick, 0), coalesce(width, 0), coalesce(diameter, 0), coalesce(ring, 0), coalesce(length, 0), coalesce(temp, 0), body`

const selectHead = `SELECT record, seq FROM dullred.version, dullred.head`

// selectPage gives entries and labels in one line; one that is no label has no class.
const selectPage = `(SELECT seq, '' AS class, ` + rowColumns + ` FROM dullred.entry WHERE seq > $1 ORDER BY seq LIMIT $2)
	UNION ALL
	(SELECT seq, class, id, 0, 0, id, id, id, '', '', 0, '', 0, '', 0, 0, 0, 0, 0, 0, text FROM dullred.label WHERE seq > $1 ORDER BY seq LIMIT $2)
	ORDER BY seq LIMIT $2`

// After gives up to limit rows and labels that were stored after a cursor.
func (s *Store) After(ctx context.Context, cursor int64, limit int) (share.Page, error) {
	var p share.Page
	err := s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) (err error) {
		p, err = after(ctx, conn, cursor, max(limit, 1))
		return err
	})
	return p, err
}

// after asks for the end of the line and then for the page, on one way to the server and
// back. What was stored up to that end is seen by the second question too, so that a page
// that is not full leads at least that far.
func after(ctx context.Context, conn *pgx.Conn, cursor int64, limit int) (p share.Page, err error) {
	var b pgx.Batch
	b.Queue(selectHead)
	b.Queue(selectPage, cursor, limit+1)
	answers := conn.SendBatch(ctx, &b)
	defer func() {
		if failed := answers.Close(); err == nil {
			err = failed
		}
	}()
	var last int64
	if err := answers.QueryRow().Scan(&p.Record, &last); err != nil {
		return p, err
	}
	if !areIDs(p.Record) || last < 0 {
		return p, errStrange
	}
	if cursor > last {
		return p, fmt.Errorf("%w: it has %d places, %d were read", share.ErrRewound, last, cursor)
	}
	rows, err := answers.Query()
	if err != nil {
		return p, err
	}
	p.Next = max(cursor, 0)
	if err := fill(&p, rows, limit); err != nil {
		return p, err
	}
	if !p.More {
		p.Next = max(p.Next, last)
	}
	return p, nil
}

// fill reads up to limit rows and labels into a page, and whether there are more. With a
// limit they come in the order of their places, from behind p.Next.
func fill(p *share.Page, found pgx.Rows, limit int) error {
	defer found.Close()
	var seq int64
	var class string
	var r schedule.Row
	fields := append([]any{&seq, &class}, fieldsOf(&r)...)
	for found.Next() {
		if p.More = len(p.Rows)+len(p.Labels) == limit; p.More {
			break
		}
		if err := found.Scan(fields...); err != nil {
			return err
		}
		if !held(class, r) || limit >= 0 && seq <= p.Next {
			return errStrange
		}
		p.Next = seq
		if class != "" {
			p.Labels = append(p.Labels, share.Label{ID: r.ID, Class: class, Text: r.Body})
			continue
		}
		p.Rows = append(p.Rows, r)
	}
	found.Close()
	return found.Err()
}

func fieldsOf(r *schedule.Row) []any {
	return []any{&r.ID, &r.At, &r.Written, &r.Bench, &r.Hand, &r.Piece, &r.Zones, &r.Kind, &r.Version, &r.Process,
		&r.Count, &r.Shape, &r.Thick, &r.Width, &r.Diameter, &r.Ring, &r.Length, &r.Temp, &r.Body}
}

// Pieces gives the rows of some pieces, in the order of the ids of the rows, and the
// labels of the pieces.
func (s *Store) Pieces(ctx context.Context, ids ...string) (share.Batch, error) {
	ids = slices.DeleteFunc(slices.Clone(ids), func(id string) bool { return uuid.Validate(id) != nil }) // they are no pieces
	if len(ids) == 0 {
		return share.Batch{}, ctx.Err()
	}
	var p share.Page
	err := s.work.use(ctx, func(ctx context.Context, conn *pgx.Conn) error {
		p = share.Page{}
		rows, err := conn.Query(ctx, selectPieces, ids)
		if err != nil {
			return err
		}
		return fill(&p, rows, -1)
	})
	return share.Batch{Labels: p.Labels, Rows: p.Rows}, err
}

const selectPieces = `SELECT seq, '' AS class, ` + rowColumns + ` FROM dullred.entry WHERE piece = ANY ($1)
	UNION ALL
	SELECT seq, class, id, 0, 0, id, id, id, '', '', 0, '', 0, '', 0, 0, 0, 0, 0, 0, text FROM dullred.label WHERE id = ANY ($1)
	ORDER BY id`
