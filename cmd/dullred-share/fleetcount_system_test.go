//go:build system && linux

package main

import (
	"cmp"
	"database/sql"
	"encoding/json"
	"fmt"
	"net/url"
	"os/exec"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// finding is what was found in the end.
type finding struct {
	acknowledged, typed, all int
	lost                     int // acknowledged, and missing in some place
	doubled                  int
	unknown                  int // in the shared record, though nobody wrote it
}

// written are the ids of all entries that are in the record of the bench that wrote them.
// Some of them were never acknowledged, because their writer was killed.
func (f *fleet) written(t *testing.T) map[string]bool {
	all := map[string]bool{}
	for _, s := range f.stations {
		for _, id := range s.ownIDs(t) {
			all[id] = true
		}
	}
	return all
}

// ownIDs are those that a bench wrote, by the rows of its record.
func (s *station) ownIDs(t *testing.T) (ids []string) {
	file := url.URL{Scheme: "file", Path: s.record, RawQuery: "_busy_timeout=5000"}
	db, err := sql.Open("sqlite", file.String())
	require.NoError(t, err)
	defer db.Close()
	rows, err := db.Query(`SELECT id FROM entry WHERE bench = (SELECT id FROM label WHERE class = 'bench' AND text = 'bench')`)
	require.NoError(t, err)
	defer rows.Close()
	for rows.Next() {
		var id string
		require.NoError(t, rows.Scan(&id))
		ids = append(ids, id)
	}
	require.NoError(t, rows.Err())
	return ids
}

// converge waits until all records and the shared one hold so many entries.
func (f *fleet) converge(t *testing.T, entries int) {
	limit := time.Now().Add(2*time.Minute + time.Duration(entries)*10*time.Millisecond)
	there := f.reader(t)
	wait := func(where string, said func() string, count func() (int, error)) {
		for {
			n, err := count()
			if err == nil && n == entries {
				return
			}
			f.sound(t)
			if time.Now().After(limit) {
				require.Fail(t, "it does not converge", "%s has %d entries of %d: %v: %s", where, n, entries, err, said())
			}
			time.Sleep(20 * time.Millisecond)
		}
	}
	wait("the shared record", f.server.Log, func() (int, error) {
		total, err := there.Total(t.Context())
		return int(total.Count), err
	})
	for _, s := range f.stations {
		r, err := record.Open(s.record)
		require.NoError(t, err)
		wait(fmt.Sprint("bench ", s.n), s.said, r.Count)
		require.NoError(t, r.Close())
	}
}

// reader is the shared record as somebody who only reads has it.
func (f *fleet) reader(t *testing.T) *postgres.Store {
	t.Helper()
	there, err := postgres.Open(t.Context(), postgres.Config{URL: f.server.URL(pgtest.Owner, f.database), PasswordFile: f.server.PasswordFile})
	require.NoError(t, err)
	t.Cleanup(func() { _ = there.Close() })
	return there
}

// count looks at every entry in every place.
func (f *fleet) count(t *testing.T, written map[string]bool) (c finding) {
	there := f.reader(t)
	rows := readAll(t, there)
	sums, err := there.Sums(t.Context())
	require.NoError(t, err)
	require.Equal(t, share.SumsOf(rows), sums, "what the server reckons is what it holds")
	ids := make([]string, len(rows))
	for i, r := range rows {
		ids[i] = r.ID
	}
	c.all = len(ids)
	c.doubled += len(ids) - len(slices.Compact(slices.Clone(ids)))
	for _, id := range ids {
		if !written[id] {
			c.unknown++
		}
	}
	c.told(f, rows)
	for _, s := range f.stations {
		c.compare(t, s, ids, sums)
	}
	return c
}

// readAll reads the shared record, in the order of the ids.
func readAll(t *testing.T, there share.Store) (rows []schedule.Row) {
	for cursor, more := int64(0), true; more; {
		p, err := there.After(t.Context(), cursor, 5000)
		require.NoError(t, err)
		rows = append(rows, p.Rows...)
		cursor, more = p.Next, p.More
	}
	slices.SortFunc(rows, func(a, b schedule.Row) int { return cmp.Compare(a.ID, b.ID) })
	return rows
}

// told holds what is in the shared record against what the writers told: what they were
// acknowledged is there, and nothing is that they did not mean to write. What dullred
// itself adds to a pass is about the piece that was typed about.
func (c *finding) told(f *fleet, rows []schedule.Row) {
	meant, acknowledged, byHand := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, s := range f.stations {
		for _, id := range s.telling {
			meant[id] = true
		}
		for _, id := range slices.Concat(s.told, s.byHand) {
			acknowledged[id] = true
		}
		for _, id := range s.byHand {
			byHand[id] = true
		}
	}
	c.acknowledged, c.typed = len(acknowledged), len(byHand)
	pieces := map[string]bool{}
	for _, r := range rows {
		if byHand[r.ID] {
			pieces[r.Piece] = true
		}
	}
	for _, r := range rows {
		delete(acknowledged, r.ID)
		if !meant[r.ID] && !pieces[r.Piece] {
			c.unknown++
		}
	}
	c.lost += len(acknowledged)
}

// compare holds the record of a bench against the shared one, by itself and by
// dullred-share compare beside its carrier.
func (c *finding) compare(t *testing.T, s *station, ids []string, sums map[string]share.Sum) {
	r, err := record.Open(s.record)
	require.NoError(t, err)
	here, n, before := map[string]share.Sum{}, 0, ""
	for row, err := range r.Stored() {
		require.NoError(t, err)
		if row.ID == before {
			c.doubled++
			continue
		}
		for n < len(ids) && ids[n] < row.ID {
			c.lost, n = c.lost+1, n+1
		}
		if n == len(ids) || ids[n] != row.ID {
			c.unknown++
			continue
		}
		here[row.Piece] = here[row.Piece].Add(schedule.Row(row))
		before, n = row.ID, n+1
	}
	c.lost += len(ids) - n
	require.NoError(t, r.Close())
	require.Equal(t, sums, here, "bench %d has the same entries to the letter", s.n)

	out, err := exec.Command(s.carrierProgram, s.args("compare", "--json")...).Output()
	require.NoError(t, err, "the exit code")
	var j comparedJSON
	require.NoError(t, json.Unmarshal(out, &j))
	require.True(t, j.Equal, "bench %d: %s", s.n, out)
	require.Equal(t, j.Here, j.There)
	require.EqualValues(t, len(ids), j.Here.Entries)
}
