//go:build system && linux

package main

import (
	"context"
	"encoding/binary"
	"fmt"
	"iter"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"
	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// A past is what thirty benches have made up to a moment: one evening a week on which
// each of them makes twelve pieces of forty entries, and lights and puts out its torch.
// On the last evening nothing was finished. Of the first evening it has as much as brings
// the entries to their number. The same past is the same to the letter.
type past struct {
	entries int
	end     time.Time
	called  string // the last bench, in the shared record, by the name of its role
}

const (
	pastBenches = 30
	pastPieces  = 12 // of a bench on an evening
	pastPiece   = 40 // entries
	pastEvening = 2 + pastPieces*pastPiece
	pastLength  = 4 * time.Hour
)

// benchOf is the id of a bench of a past, from 0. The last ones are in every past.
func benchOf(k int) string { return id(fmt.Sprint("bench of the past ", k)) }

// pastSteps are the entries of a piece: its start, five times two courses and a heat,
// three courses more, and its end.
var pastSteps = sync.OnceValue(func() (rows []schedule.Row) {
	side := unit.Millimetre(8)
	square := func() schedule.Reading {
		return schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: side, Width: side}}
	}
	add := func(bodies ...schedule.Body) {
		for _, body := range bodies {
			rows = append(rows, encoded(body))
		}
	}
	courses := func(n int) {
		for range n {
			side *= 0.94
			add(schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square()})
		}
	}
	add(schedule.Started{Alloy: "AG925", Reading: square(), Calliper: 0.05})
	for range 5 {
		courses(2)
		add(schedule.Begun{}, schedule.Reached{Temp: 630}, schedule.Out{}, schedule.Quenched{}, schedule.Soft{})
	}
	courses(3)
	add(schedule.Finished{})
	return rows
})

// encoded is an entry of which only what it says is set.
func encoded(body schedule.Body) schedule.Row {
	row, err := schedule.Encode(schedule.Entry{At: hour, Written: hour, Body: body})
	if err != nil {
		panic(err) // a body that is no JSON is a mistake in a test
	}
	return row
}

// batches are what each bench stores at the end of each evening, evening by evening.
func (p past) batches() iter.Seq[share.Batch] {
	return func(yield func(share.Batch) bool) {
		chance := rand.New(rand.NewPCG(1, 2))
		evenings := (p.entries + pastBenches*pastEvening - 1) / (pastBenches * pastEvening)
		skip := evenings*pastBenches*pastEvening - p.entries
		for e := range evenings {
			begun := p.end.Add(-pastLength - time.Duration(evenings-1-e)*7*24*time.Hour)
			for k := range pastBenches {
				b := evening{chance, k, begun, e == evenings-1}.batch()
				if k == pastBenches-1 {
					b.Labels[0].Text = p.called
				}
				cut := min(skip, len(b.Rows))
				b.Rows, skip = b.Rows[cut:], skip-cut
				if len(b.Rows) > 0 && !yield(b) {
					return
				}
			}
		}
	}
}

// evening is one of a bench.
type evening struct {
	chance *rand.Rand
	bench  int
	begun  time.Time
	last   bool
}

func (e evening) batch() (b share.Batch) {
	bench, hand := benchOf(e.bench), id(fmt.Sprint("hand of the past ", e.bench))
	log := func(row schedule.Row, piece string, after time.Duration) {
		at := e.begun.Add(after)
		row.ID, row.At, row.Written, row.Bench, row.Hand, row.Piece = e.id(at), at.UnixMicro(), at.UnixMicro(), bench, hand, piece
		b.Rows = append(b.Rows, row)
	}
	b.Labels = []share.Label{{ID: bench, Class: "bench", Text: fmt.Sprint("bench ", e.bench+1)}, {ID: hand, Class: "hand", Text: fmt.Sprint("hand ", e.bench+1)}}
	log(encoded(schedule.TorchLit{}), bench, 0)
	step := pastLength / time.Duration(pastPieces*pastPiece+1)
	for i := range pastPieces * pastPiece {
		row, after := pastSteps()[i%pastPiece], time.Duration(i+1)*step
		if i%pastPiece == 0 {
			id := e.id(e.begun.Add(after))
			b.Labels = append(b.Labels, share.Label{ID: id, Class: "piece", Text: "spoon " + id[:8] + id[19:]})
		}
		if e.last && row.Kind == string(schedule.KindFinished) {
			row = encoded(schedule.Note{Text: "to be planished"})
		}
		log(row, b.Labels[len(b.Labels)-1].ID, after)
	}
	log(encoded(schedule.TorchOut{}), bench, pastLength)
	return b
}

// id is a UUIDv7 (RFC 9562) of a moment.
func (e evening) id(at time.Time) string {
	var u uuid.UUID
	binary.BigEndian.PutUint64(u[:8], uint64(at.UnixMilli())<<16|0x7000|e.chance.Uint64()&0xfff)
	binary.BigEndian.PutUint64(u[8:], e.chance.Uint64()>>2|1<<63)
	return u.String()
}

// sums are those of its pieces, reckoned here.
func (p past) sums() map[string]share.Sum {
	sums := map[string]share.Sum{}
	for b := range p.batches() {
		for _, r := range b.Rows {
			sums[r.Piece] = sums[r.Piece].Add(r)
		}
	}
	return sums
}

// lines are the entries and labels with their places in the line of a shared record, as
// rows of the tables that store stages. A label stands where it first was.
func (p past) lines(entry, label func([]any) bool) {
	seq, named := int64(0), map[string]bool{}
	for b := range p.batches() {
		for _, l := range b.Labels {
			if seq++; named[l.ID] {
				continue
			}
			named[l.ID] = true
			if !label([]any{seq, asUUID(l.ID), l.Class, l.Text, asUUID(b.Rows[0].Bench)}) {
				return
			}
		}
		for _, r := range b.Rows {
			seq++
			if !entry([]any{seq, asUUID(r.ID), r.At, r.Written, asUUID(r.Bench), asUUID(r.Hand), asUUID(r.Piece), r.Zones, r.Kind, r.Version,
				r.Process, r.Count, r.Shape, r.Thick, r.Width, r.Diameter, r.Ring, r.Length, r.Temp, r.Body}) {
				return
			}
		}
	}
}

func asUUID(text string) pgtype.UUID { return pgtype.UUID{Bytes: uuid.MustParse(text), Valid: true} }

// store loads a past into a database that was prepared: as its owner and past
// dullred.send, with digests and sums that the server reckons.
func (p past) store(tb testing.TB, s *pgtest.Server, database string) {
	tb.Helper()
	all := func([]any) bool { return true }
	s.Exec(tb, database, `CREATE UNLOGGED TABLE staged (LIKE dullred.entry);
		ALTER TABLE staged DROP COLUMN digest;
		CREATE UNLOGGED TABLE named (seq bigint, id uuid, class text, text text, owner uuid)`)
	copied(tb, s, database, "staged", func(yield func([]any) bool) { p.lines(yield, all) })
	copied(tb, s, database, "named", func(yield func([]any) bool) { p.lines(all, yield) })
	for from := 0; from < 2*p.entries; from += 50_000 { // each in the time that an owner of pgtest has
		s.Exec(tb, database, fmt.Sprintf(`INSERT INTO dullred.entry
			SELECT (e).seq, (e).id, (e).at, (e).written, (e).bench, (e).hand, (e).piece, (e).zones, (e).kind, (e).version, (e).process,
				(e).count, (e).shape, (e).thick, (e).width, (e).diameter, (e).ring, (e).length, (e).temp, (e).body, dullred.digest_of(e)
			FROM (SELECT ROW(seq, id, at, written, bench, hand, piece, zones, kind, version, process, nullif(count, 0), shape, nullif(thick, 0),
				nullif(width, 0), nullif(diameter, 0), nullif(ring, 0), nullif(length, 0), nullif(temp, 0), body, 0)::dullred.entry AS e
				FROM staged WHERE seq > %d AND seq <= %d ORDER BY seq) AS part`, from, from+50_000))
	}
	for _, statement := range []string{`INSERT INTO dullred.label SELECT id, class, text, md5(dullred.fold(text)), seq, owner FROM named`,
		`INSERT INTO dullred.piece_sum SELECT piece, count(*), dullred.wrapped(sum(digest)) FROM dullred.entry GROUP BY piece`,
		`UPDATE dullred.head SET seq = (SELECT max(seq) FROM dullred.entry), count = (SELECT sum(count) FROM dullred.piece_sum),
			digest = dullred.wrapped((SELECT sum(digest) FROM dullred.piece_sum))`,
		`DROP TABLE staged, named`, `VACUUM (ANALYZE) dullred.entry`, `VACUUM (ANALYZE) dullred.label`, `VACUUM (ANALYZE) dullred.piece_sum`, `CHECKPOINT`} {
		s.Exec(tb, database, statement)
	}
}

// copied fills a table.
func copied(tb testing.TB, s *pgtest.Server, database, table string, rows iter.Seq[[]any]) {
	tb.Helper()
	s.As(tb, database, func(ctx context.Context, conn *pgx.Conn) error {
		var columns []string
		described, err := conn.Prepare(ctx, "", "TABLE "+table)
		if err != nil {
			return err
		}
		for _, f := range described.Fields {
			columns = append(columns, f.Name)
		}
		next, stop := iter.Pull(rows)
		defer stop()
		_, err = conn.CopyFrom(ctx, pgx.Identifier{table}, columns, pgx.CopyFromFunc(func() ([]any, error) {
			row, _ := next()
			return row, nil
		}))
		return err
	})
}

// keep writes a past to the record of one of its benches.
func (p past) keep(tb testing.TB, path, bench string) {
	tb.Helper()
	r, err := record.Open(path)
	require.NoError(tb, err)
	var labels []record.Label
	var rows []record.Row
	flush := func() {
		require.NoError(tb, r.AppendNamed(labels, rows...))
		labels, rows = nil, nil
	}
	for b := range p.batches() {
		for _, l := range b.Labels {
			if l.ID == bench {
				l.Text = share.OwnBench
			}
			labels = append(labels, record.Label{ID: l.ID, Class: record.Class(l.Class), Text: l.Text})
		}
		for _, row := range b.Rows {
			rows = append(rows, record.Row(row))
		}
		if len(rows) > 10_000 {
			flush()
		}
	}
	flush()
	require.NoError(tb, r.Close())
}
