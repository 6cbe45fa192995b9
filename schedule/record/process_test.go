package record

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Killing a writer keeps what the operating system has been given, so this
// shows that the file is whole at every instant, not that it survives a power cut.
func TestKilledWriterLosesNothing(t *testing.T) {
	t.Parallel() // most of its time is waiting
	kills := fewer(200)
	path := filepath.Join(t.TempDir(), "record.db")
	var acknowledged, unchecked []string
	for i := range kills {
		ids := writeUntilKilled(t, path)
		acknowledged = append(acknowledged, ids...)
		unchecked = append(unchecked, ids...)
		if i%4 == 3 { // in between the next writer is the one to recover
			requireStored(t, path, unchecked)
			unchecked = nil
		}
	}
	requireWhole(t, path, acknowledged)
	t.Logf("%d entries acknowledged over %d kills", len(acknowledged), kills)
}

// writeUntilKilled lets a child append for 2 to 40 ms after its first
// acknowledgement, kills it and returns what it acknowledged.
func writeUntilKilled(t *testing.T, path string) []string {
	t.Helper()
	cmd := child(appendForever, path, "")
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	lines := bufio.NewReader(out)
	nextLine(lines) // ready
	first, ok := nextLine(lines)
	require.True(t, ok, "the writer acknowledged nothing")
	life := 2*time.Millisecond + rand.N(38*time.Millisecond)
	time.AfterFunc(life, func() { _ = cmd.Process.Kill() })
	ids := []string{first}
	for id, ok := nextLine(lines); ok; id, ok = nextLine(lines) {
		ids = append(ids, id)
	}
	require.Error(t, cmd.Wait(), "the writer ended by itself")
	return ids
}

func requireStored(t *testing.T, path string, ids []string) {
	t.Helper()
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	for _, id := range ids {
		rows, err := r.Find(id, 1)
		require.NoError(t, err)
		require.Len(t, rows, 1, "acknowledged entry %s is lost", id)
	}
}

// requireWhole checks that every acknowledged entry is there, that nothing is
// there twice and that SQLite finds no fault with the file.
func requireWhole(t *testing.T, path string, acknowledged []string) {
	t.Helper()
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	stored := map[string]bool{}
	for row, err := range r.All() {
		require.NoError(t, err)
		require.False(t, stored[row.ID], "entry %s came twice", row.ID)
		stored[row.ID] = true
	}
	for _, id := range acknowledged {
		require.True(t, stored[id], "acknowledged entry %s is lost", id)
	}
	var verdict string
	require.NoError(t, raw(t, path).QueryRow(`PRAGMA integrity_check`).Scan(&verdict))
	require.Equal(t, "ok", verdict)
}

func TestKilledCreatorLeavesAUsableFile(t *testing.T) {
	for i := range fewer(40) {
		path := filepath.Join(t.TempDir(), fmt.Sprintf("record%d.db", i))
		cmd := child(openOnly, path, "")
		out, err := cmd.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		nextLine(bufio.NewReader(out)) // ready
		time.Sleep(rand.N(5 * time.Millisecond))
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		ids, err := runChild(appendSome, path, "1")
		require.NoError(t, err)
		requireWhole(t, path, ids)
	}
}

// Two benches write as fast as they can: nothing is lost and nothing is there twice.
func TestTwoWriters(t *testing.T) {
	t.Parallel()       // most of its time is waiting
	each := fewer(800) // so many are written within the time that a writer waits for its turn
	path := filepath.Join(t.TempDir(), "record.db")
	ids := atOnce(t, 2, path, fmt.Sprint(each))
	require.Len(t, ids, 2*each)
	requireWhole(t, path, ids)
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	require.Len(t, all(t, r), 2*each)
}

func TestManyProcessesCreateOneRecord(t *testing.T) {
	for range fewer(20) {
		path := filepath.Join(t.TempDir(), "new", "record.db")
		ids := atOnce(t, 8, path, "2")
		require.Len(t, ids, 16)
		requireWhole(t, path, ids)
	}
}

// atOnce lets n children append to one record at once and returns all ids.
func atOnce(t *testing.T, n int, path, each string) []string {
	t.Helper()
	var running sync.WaitGroup
	found, failures := make([][]string, n), make([]error, n)
	for i := range n {
		running.Go(func() { found[i], failures[i] = runChild(appendSome, path, each) })
	}
	running.Wait()
	var ids []string
	for i, some := range found {
		require.NoError(t, failures[i])
		ids = append(ids, some...)
	}
	return ids
}

func TestManyGoroutinesCreateOneRecord(t *testing.T) {
	const n = 16
	path := filepath.Join(t.TempDir(), "record.db")
	var running sync.WaitGroup
	failures := make([]error, n)
	rows := samples(n)
	for i := range n {
		running.Go(func() {
			r, err := Open(path)
			if err == nil {
				err = r.Append(rows[i])
			}
			if err == nil {
				err = r.Close()
			}
			failures[i] = err
		})
	}
	running.Wait()
	for _, err := range failures {
		require.NoError(t, err)
	}
	requireWhole(t, path, idsOf(rows))
}

// The switch to a write-ahead log waits for a writer that came in between
// creation and switch, where SQLite by itself gives up at once.
func TestSwitchWaitsForWriters(t *testing.T) {
	path := closed(t)
	execute(`PRAGMA journal_mode = DELETE`)(t, path)
	writer := raw(t, path)
	writer.SetMaxOpenConns(1)
	_, err := writer.Exec(`BEGIN IMMEDIATE`)
	require.NoError(t, err)
	time.AfterFunc(100*time.Millisecond, func() { _, _ = writer.Exec(`ROLLBACK`) })
	r, err := Open(path)
	require.NoError(t, err)
	require.NoError(t, r.Close())
}

func TestFullDisk(t *testing.T) {
	r := openNew(t)
	rows := samples(3)
	require.NoError(t, r.Append(rows...))
	_, err := r.pen.Exec(`PRAGMA max_page_count = 1`) // as many pages as there are
	require.NoError(t, err)
	for err == nil {
		row := sample()
		if err = r.Append(row); err == nil {
			rows = append(rows, row)
		}
	}
	require.ErrorIs(t, err, ErrFull)
	require.EqualError(t, err, "append "+r.Path()+": the disk is full")
	label := Label{ID: bowl, Class: PieceClass, Text: "Practice Bowl"}
	require.ErrorIs(t, r.AppendNamed([]Label{label}, samples(50)...), ErrFull, "all or none")
	require.ElementsMatch(t, rows, all(t, r), "what was acknowledged is there")
	_, err = r.pen.Exec(`PRAGMA max_page_count = 1000000`)
	require.NoError(t, err)
	require.NoError(t, r.Append(sample()))
}

func TestLockedByAnother(t *testing.T) {
	t.Parallel() // most of its time is waiting
	r := openNew(t)
	other := raw(t, r.Path())
	other.SetMaxOpenConns(1)
	_, err := other.Exec(`BEGIN IMMEDIATE`)
	require.NoError(t, err)
	err = r.Append(sample())
	require.ErrorIs(t, err, ErrBusy)
	require.EqualError(t, err, "append "+r.Path()+": another program keeps the record locked")
	_, err = other.Exec(`ROLLBACK`)
	require.NoError(t, err)
	require.NoError(t, r.Append(sample()))
}
