//go:build system

package main

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// alertKills is the kind of work that has a machine of its own.
const alertKills = "alert"

// killings is what is cut off besides alerts, which have the rest of the hundred.
var killings = []killing{
	{name: "creation", share: 6, rounds: 1, begin: func(*testing.T, *struck) {}, args: killedPiece, after: killedEntry},
	{name: "append", share: 20, rounds: 25, begin: beginSpoon, args: killedPass, after: killedPasses},
	{name: "migrate", share: 15, rounds: 1, begin: beginOld, args: killedPass, left: oldOrNew, after: killedPasses},
	{name: "backup, export or sheet", share: 16, rounds: 10, begin: beginEvening, args: killedFile, after: killedFiles},
	{name: "merge or import", share: 13, rounds: 1, begin: beginJoining, args: killedJoining, after: killedJoined},
	{name: "heat chain", share: 16, rounds: 25, begin: beginSpoon, args: killedStep, after: killedChain},
}

func killedPiece(*testing.T, *struck) []string {
	return []string{"piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8"}
}

// killedEntry goes on with another record, since this one is made.
func killedEntry(t *testing.T, s *struck, out []byte, all stored) bool {
	if !s.mustKeep(t, out, all) {
		return false
	}
	s.record, s.acked = s.record+"x", nil
	return true
}

func beginSpoon(t *testing.T, s *struck) {
	s.spoon(t, "8x8")
	s.keepAll(t)
}

// keepAll has everything that is in the record be there from now on.
func (s *struck) keepAll(t *testing.T) {
	t.Helper()
	for _, row := range storedIn(t, s.record).rows {
		s.acked = append(s.acked, row.ID)
	}
}

func killedPass(*testing.T, *struck) []string { return []string{"pass", "spoon"} }

// killedPasses wants each course with the advice that was shown after it.
func killedPasses(t *testing.T, s *struck, out []byte, all stored) bool {
	require.Len(t, all.kinds("advice shown"), len(all.kinds("pass")), "a pass is recorded without its advice")
	return s.mustKeep(t, out, all)
}

// toVersion1 takes from a record what the second version added.
const toVersion1 = "DROP INDEX entry_kind; DROP INDEX entry_said; PRAGMA user_version = 1"

// beginOld makes a record as the version before this one did.
func beginOld(t *testing.T, s *struck) {
	s.evening(t, "spoon")
	s.keepAll(t)
	s.sql(t, toVersion1)
	require.Equal(t, "1 0", s.version(t))
}

func (s *struck) sql(t *testing.T, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite", s.record)
	require.NoError(t, err)
	_, err = db.Exec(statement)
	require.NoError(t, err)
	require.NoError(t, db.Close())
}

// version is that of the record, and how many indexes of the new one it has.
func (s *struck) version(t *testing.T) (text string) {
	t.Helper()
	db, err := sql.Open("sqlite", s.record)
	require.NoError(t, err)
	defer db.Close()
	require.NoError(t, db.QueryRow(`SELECT user_version || ' ' || (SELECT count(*) FROM sqlite_schema
		WHERE name IN ('entry_kind', 'entry_said')) FROM pragma_user_version`).Scan(&text))
	return text
}

// oldOrNew wants the record of one version or the other, with the indexes of that one.
func oldOrNew(t *testing.T, s *struck) {
	if version := s.version(t); version != "1 0" && version != "2 2" {
		s.totals.add(&s.totals.between, 1)
		t.Errorf("the record is between two versions: %s", version)
	}
}

// beginEvening makes a record with something to be written of.
func beginEvening(t *testing.T, s *struck) {
	s.evening(t, "spoon")
	s.keepAll(t)
}

// killedFile writes a backup, an export or a sheet, in turns.
func killedFile(t *testing.T, s *struck) []string {
	folder := filepath.Join(s.folder, fmt.Sprint("file", s.tries))
	switch s.tries % 3 {
	case 0:
		s.made = folder + ".db"
		return []string{"record", "backup", s.made}
	case 1:
		s.made = folder + ".jsonl"
		return []string{"export", s.made}
	}
	s.made = filepath.Join(folder, "spoon.json")
	return []string{"sheet", "spoon", "--format", "json", "--into", folder}
}

// killedFiles wants a file that is whole or not there under its name.
func killedFiles(t *testing.T, s *struck, out []byte, _ stored) bool {
	parts, err := filepath.Glob(filepath.Join(s.folder, "*.part*"))
	require.NoError(t, err)
	more, err := filepath.Glob(filepath.Join(s.folder, "*", "*.part*"))
	require.NoError(t, err)
	s.totals.add(&s.totals.parts, len(parts)+len(more))
	for _, part := range append(parts, more...) {
		require.NoError(t, os.Remove(part))
	}
	if _, err := os.Stat(s.made); os.IsNotExist(err) {
		if len(out) > 0 {
			s.totals.add(&s.totals.lost, 1)
			t.Errorf("acknowledged file %s is not there", s.made)
		}
		return len(out) > 0
	}
	if err := s.readable(t); err != nil {
		s.totals.add(&s.totals.half, 1)
		t.Errorf("%s is half made: %v", s.made, err)
	}
	return len(out) > 0
}

// readable reads what was written as whoever gets it would.
func (s *struck) readable(t *testing.T) error {
	t.Helper()
	if strings.HasSuffix(s.made, ".json") {
		text, err := os.ReadFile(s.made)
		require.NoError(t, err)
		var sheet any
		return json.Unmarshal(text, &sheet)
	}
	verb := "import"
	if strings.HasSuffix(s.made, ".db") {
		verb = "merge"
	}
	return s.broughtIn(t, verb)
}

// broughtIn brings what was written into another record, which is then sound.
func (s *struck) broughtIn(t *testing.T, verb string) error {
	t.Helper()
	other := program{path: s.path, record: filepath.Join(t.TempDir(), "other.db")}
	var complaint bytes.Buffer
	if run([]string{verb, s.made, "--record", other.record}, io.Discard, &complaint, os.Getenv) != exitOK {
		return errors.New(complaint.String())
	}
	s.count(t, storedIn(t, other.record))
	return nil
}

// beginJoining has a spoon here, and another's evening to be brought in.
func beginJoining(t *testing.T, s *struck) {
	beginSpoon(t, s)
	other := program{path: s.path, record: filepath.Join(s.folder, "other.db")}
	other.evening(t, "ladle")
	other.must(t, "export", filepath.Join(s.folder, "other.jsonl"))
}

func killedJoining(_ *testing.T, s *struck) []string {
	if s.tries%2 == 0 {
		return []string{"merge", filepath.Join(s.folder, "other.db")}
	}
	return []string{"import", filepath.Join(s.folder, "other.jsonl")}
}

// killedJoined wants all of the other's entries or none, and all if that was told, and
// nothing left in the folder, which is that of temporary files too.
func killedJoined(t *testing.T, s *struck, out []byte, all stored) bool {
	files, err := os.ReadDir(s.folder)
	require.NoError(t, err)
	for _, f := range files {
		require.Contains(t, []string{"record.db", "other.db", "other.jsonl"}, f.Name(), "a file is left")
	}
	here, theirs := 0, storedIn(t, filepath.Join(s.folder, "other.db"))
	for id := range theirs.counts {
		here += all.counts[id]
	}
	switch {
	case here != 0 && here != len(theirs.counts):
		s.totals.add(&s.totals.half, 1)
		t.Errorf("%d of %d entries were brought in", here, len(theirs.counts))
	case here == 0 && len(out) > 0:
		s.totals.add(&s.totals.lost, len(theirs.counts))
		t.Errorf("what was told to be brought in is not here")
	}
	return len(out) > 0
}

// chain is a heat, step by step, and the entries that it leaves.
var chain = []struct{ kind, command string }{
	{"heat begun", "heat begin spoon"}, {"heat reached", "heat reach spoon"}, {"heat out", "heat out spoon"},
	{"quenched", "quench spoon"}, {"proved soft", "proved soft spoon"},
}

func killedStep(_ *testing.T, s *struck) []string {
	return strings.Fields(chain[s.done%len(chain)].command)
}

// killedChain wants each step once and in order; one that was recorded before the kill
// is not repeated, as nobody would who looks at the page.
func killedChain(t *testing.T, s *struck, out []byte, all stored) bool {
	var kinds []string
	for _, step := range chain {
		kinds = append(kinds, step.kind)
	}
	found := all.kinds(kinds...)
	for i, kind := range found {
		require.Equal(t, chain[i%len(chain)].kind, kind, "step %d", i)
	}
	if len(found) > s.done+1 {
		s.totals.add(&s.totals.doubled, 1)
		t.Errorf("a step is there twice: %q", found)
	}
	s.done = len(found)
	return s.mustKeep(t, out, all)
}
