package record

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// A later version, invented here so that the way up is walked before there is one.
const later = `ALTER TABLE entry ADD COLUMN mass REAL; CREATE TABLE mark (id TEXT) STRICT;`

// beyond is our steps and one more.
func beyond(step string) []string { return append(slices.Clip(migrations), step) }

func TestNewRecordHasItsMarksInTheHeader(t *testing.T) {
	path := closed(t)
	require.NoError(t, vet(path, len(migrations), os.O_RDWR))
	head, _, err := readHeader(path, os.O_RDWR)
	require.NoError(t, err)
	require.Equal(t, "dulr", string(head[applicationAt:applicationAt+4]))
	require.Equal(t, "\x00\x00\x00\x02", string(head[versionAt:versionAt+4]))
}

func TestMigration(t *testing.T) {
	rows := samples(5)
	path := closed(t, rows...)
	r, err := open(path, beyond(later))
	require.NoError(t, err)
	log, err := os.Stat(path + "-wal")
	require.NoError(t, err)
	require.Zero(t, log.Size(), "the new version must stand in the header, not in the log")
	_, err = r.db.Exec(`INSERT INTO mark VALUES ('x')`)
	require.NoError(t, err)
	require.ElementsMatch(t, rows, all(t, r))
	require.NoError(t, r.Append(sample()), "an older program that still has it open writes on")
	require.NoError(t, r.Close())

	_, err = Open(path)
	require.ErrorIs(t, err, ErrNewer, "what was migrated is too new for the old program")
	r, err = open(path, beyond(later))
	require.NoError(t, err, "and is not migrated twice")
	require.NoError(t, r.Close())
}

func TestFailedMigrationChangesNothing(t *testing.T) {
	rows := samples(5)
	path := closed(t, rows...)
	before := contents(t, filepath.Dir(path))
	_, err := open(path, beyond(later+`INSERT INTO nowhere VALUES (1);`))
	require.ErrorContains(t, err, "open "+path+": from version 2 to 3: ")
	require.ErrorContains(t, err, "nowhere")
	require.Equal(t, before, contents(t, filepath.Dir(path)))

	r, err := Open(path)
	require.NoError(t, err, "the file keeps its version")
	defer r.Close()
	require.ElementsMatch(t, rows, all(t, r))
}

func TestFailedCreationCanBeRepeated(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	_, err := open(path, []string{version1 + `INSERT INTO nowhere VALUES (1);`})
	require.ErrorContains(t, err, "from version 0 to 1")
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	require.NoError(t, r.Append(sample()))
}

// The log of a newer program may hold a version that the header does not show yet.
func TestNewerInTheLog(t *testing.T) {
	path := closed(t, samples(3)...)
	newer := raw(t, path)
	newer.SetMaxOpenConns(1)
	_, err := newer.Exec(`PRAGMA wal_autocheckpoint = 0; PRAGMA user_version = 99`)
	require.NoError(t, err)
	_, err = Open(path)
	require.ErrorIs(t, err, ErrNewer)
}
