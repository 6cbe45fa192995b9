package record

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// killsEverywhere kills children in turns while they append, make a record,
// migrate one or back it up, and looks at what they leave.
func killsEverywhere(t *testing.T, kills int) {
	t.Helper()
	turns := []func(*testing.T, int) bool{killAppend, killCreation, killMigration, killBackup}
	caught := make([]int, len(turns))
	for i := range kills {
		if turns[i%len(turns)](t, i) {
			caught[i%len(turns)]++
		}
	}
	t.Logf("of %d kills each caught %v before the work was done: append, creation, migration, backup", kills/len(turns), caught)
}

// kill starts a child, lets it live for a while and returns what it
// acknowledged, and whether it died before it came to the end by itself.
func kill(t *testing.T, life time.Duration, work, path, argument string) (lines []string, caught bool) {
	t.Helper()
	cmd := child(work, path, argument)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	reader := bufio.NewReader(out)
	_, ready := nextLine(reader)
	require.True(t, ready, "the child did not start")
	timer := time.AfterFunc(life, func() { _ = cmd.Process.Kill() })
	defer timer.Stop()
	for line, ok := nextLine(reader); ok; line, ok = nextLine(reader) {
		lines = append(lines, line)
	}
	return lines, cmd.Wait() != nil
}

func killAppend(t *testing.T, _ int) bool {
	rows := samples(30)
	path := closed(t, rows...)
	ids, caught := kill(t, rand.N(30*time.Millisecond), appendForever, path, "")
	requireWhole(t, path, append(ids, idsOf(rows)...))
	return caught
}

func killCreation(t *testing.T, _ int) bool {
	path := filepath.Join(t.TempDir(), "new", "record.db")
	_, caught := kill(t, rand.N(6*time.Millisecond), openOnly, path, "")
	requireWhole(t, path, nil)
	return caught
}

// killMigration leaves the file at one version or the other, with all it held.
func killMigration(t *testing.T, _ int) bool {
	rows := samples(30)
	path := closed(t, rows...)
	_, caught := kill(t, rand.N(6*time.Millisecond), migrateOnly, path, "")
	r, err := Open(path)
	if err != nil {
		require.ErrorIs(t, err, ErrNewer)
		r, err = open(path, beyond(later))
	}
	require.NoError(t, err)
	defer r.Close()
	require.ElementsMatch(t, rows, all(t, r))
	require.NoError(t, r.Append(sample()))
	require.NoError(t, r.checkTrees(nil))
	return caught
}

// killBackup leaves whole backups, at most one with its journal that has no
// name yet, and the record as it was.
func killBackup(t *testing.T, i int) bool {
	rows := samples(30)
	path, folder := closed(t, rows...), t.TempDir()
	name := fmt.Sprintf("copy%d-", i)
	copies, caught := kill(t, rand.N(25*time.Millisecond), backUpForever, path, filepath.Join(folder, name))
	requireWhole(t, path, idsOf(rows))
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	parts := 0
	for _, file := range files {
		full := filepath.Join(folder, file.Name())
		if strings.HasSuffix(full, ".part") || strings.HasSuffix(full, ".part-journal") {
			parts++
			continue
		}
		requireWhole(t, full, idsOf(rows))
		copies = slices.DeleteFunc(copies, func(copy string) bool { return copy == full })
	}
	require.Empty(t, copies, "an acknowledged backup is missing")
	require.LessOrEqual(t, parts, 2)
	return caught
}

func TestSomeKillsEverywhere(t *testing.T) {
	t.Parallel() // most of its time is waiting
	killsEverywhere(t, fewer(60))
}
