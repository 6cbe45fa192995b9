package record

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	sqlite3 "modernc.org/sqlite/lib"
)

// Spans are ids from one to another, both of them included, in their order.
type Spans [][2]string

// mostSpans is how many are told apart. With more, two that follow each other become one.
const mostSpans = 1024

// Add takes in an id that comes after all others: into the last span where it goes on.
func (s *Spans) Add(id string, goesOn bool) {
	if n := len(*s); goesOn && n > 0 {
		(*s)[n-1][1] = id
		return
	}
	if len(*s) == mostSpans {
		half := (*s)[:0]
		for two := range slices.Chunk(*s, 2) {
			half = append(half, [2]string{two[0][0], two[1][1]})
		}
		*s = half
	}
	*s = append(*s, [2]string{id, id})
}

// takeEntries goes from file to file. An entry that is known is passed over by the trigger
// if it is the same, and refused if not; one of a derived kind is passed over in any case.
const takeEntries = `INSERT INTO main.entry (` + columns + `)
	SELECT id, at, written, bench, hand, piece, zones, kind, version, process, nullif(count, 0), shape,
		nullif(thick, 0), nullif(width, 0), nullif(diameter, 0), nullif(ring, 0), nullif(length, 0), nullif(temp, 0), body
	FROM other.entry AS theirs WHERE id >= ? AND id <= ?
	AND (kind NOT IN (%s) OR NOT EXISTS (SELECT 1 FROM main.entry AS ours WHERE ours.id = theirs.id)) ORDER BY id`

// Take stores labels, and the entries within some spans of ids of a record that Beside
// opened, all of them or on an error none, and returns when they are on disk. It holds
// few of them in memory at once. Who calls it has looked at each entry: of what was not
// recorded through this package, figures that are no numbers for example, nothing is
// refused here. Entries of a derived kind are passed over when the id is known, as in
// AppendWith. The Reading can then only be closed.
func (r *Record) Take(from *Reading, labels []Label, spans Spans, derived ...string) error {
	if err := check(labels, nil); err != nil {
		return r.fail("append", err)
	}
	for _, label := range labels {
		if err := label.store(r.pen); err != nil {
			return r.fail("append", err)
		}
	}
	insert, err := r.pen.Prepare(fmt.Sprintf(takeEntries, strings.TrimPrefix(strings.Repeat(`, ?`, len(derived)), `, `)))
	if err != nil {
		return r.fail("append", err)
	}
	defer insert.Close()
	for some, err := range from.someOf(spans) {
		if err == nil {
			_, err = insert.Exec(append([]any{some[0], some[1]}, anyOf(derived)...)...)
		}
		if code(err) == sqlite3.SQLITE_CONSTRAINT_TRIGGER {
			err = ErrConflict
		}
		if err != nil {
			return r.fail("append", err)
		}
	}
	if err := from.Sound(); err != nil {
		return err
	}
	if _, err := r.pen.Exec(`COMMIT`); err != nil {
		return r.fail("append", err)
	}
	return nil
}

// mostTaken is how many entries one statement stores: SQLite holds those of one in memory,
// since the record has triggers.
const mostTaken = 2000

// someOf cuts spans to parts of few entries each.
func (o *Reading) someOf(spans Spans) iter.Seq2[[2]string, error] {
	return func(yield func([2]string, error) bool) {
		next, err := o.conn.Prepare(`SELECT ifnull(min(id), ''), ifnull(max(id), ''), count(*) FROM
			(SELECT id FROM other.entry WHERE id >= ? AND id <= ? ORDER BY id LIMIT ?)`)
		if err != nil {
			yield([2]string{}, err)
			return
		}
		defer next.Close()
		for _, span := range spans {
			for from, n := span[0], mostTaken; n == mostTaken; {
				var some [2]string
				err := next.QueryRow(from, span[1], mostTaken).Scan(&some[0], &some[1], &n)
				if !yield(some, err) || err != nil {
					return
				}
				from = some[1] + " " // behind it, and before the next
			}
		}
	}
}
