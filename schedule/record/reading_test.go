package record

import (
	"bufio"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// content is a file as it can be seen to have been written.
type content struct {
	text string
	at   time.Time
}

// folderOf is every file of a folder.
func folderOf(t *testing.T, folder string) map[string]content {
	all := map[string]content{}
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, f := range files {
		text, err := os.ReadFile(filepath.Join(folder, f.Name()))
		require.NoError(t, err)
		info, err := f.Info()
		require.NoError(t, err)
		all[f.Name()] = content{string(text), info.ModTime()}
	}
	return all
}

// filesOf makes a record of some files of another, in a folder of its own.
func filesOf(t *testing.T, path string, endings ...string) string {
	copied := filepath.Join(t.TempDir(), "record.db")
	for _, ending := range endings {
		text, err := os.ReadFile(path + ending)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(copied+ending, text, 0o600))
	}
	return copied
}

// read is what a Reading has to give.
func read(t *testing.T, path string) (rows []Row, labels []Label) {
	t.Helper()
	o, err := Read(path)
	require.NoError(t, err)
	rows, err = collect(o.Stored())
	require.NoError(t, err)
	labels, err = o.Labels(PieceClass)
	require.NoError(t, err)
	require.NoError(t, o.Close())
	return rows, labels
}

// In whatever manner a record is read, nothing is written to it, made beside it or copied.
func TestReadLeavesTheFilesAsTheyAre(t *testing.T) {
	row, label := sample(), Label{ID: bowl, Class: PieceClass, Text: "spoon"}
	r := openNew(t)
	require.NoError(t, r.AppendNamed([]Label{label}, row))
	ended := filepath.Join(t.TempDir(), "ended.db")
	require.NoError(t, r.Backup(ended))
	old := closed(t, row)
	execute(`DROP INDEX entry_kind; DROP INDEX entry_said; PRAGMA user_version = 1`)(t, old)
	cases := []struct {
		name, path string
		manner     manner
		named      bool
		reason     string
	}{
		{"ended", ended, still, true, "nobody has it open"},
		{"killed", filesOf(t, r.Path(), "", "-wal", "-shm"), live, true, "what a killed program left in the log is read and stays there"},
		{"taken along", filesOf(t, r.Path(), "", "-wal"), alone, true, "who copies a record by hand may leave the index of the log"},
		{"older", old, still, false, "the version does not change"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			temporary := t.TempDir()
			t.Setenv("TMPDIR", temporary)
			seen, err := glance(c.path)
			require.NoError(t, err)
			require.Equal(t, c.manner, seen.manner(), c.reason)
			before := folderOf(t, filepath.Dir(c.path))
			rows, labels := read(t, c.path)
			require.Equal(t, []Row{row}, rows, c.reason)
			if c.named {
				require.Equal(t, []Label{label}, labels, c.reason)
			}
			require.Equal(t, before, folderOf(t, filepath.Dir(c.path)), c.reason)
			require.Empty(t, folderOf(t, temporary))
		})
	}
}

// While another program writes, what is read is of one moment, and that program is
// neither hindered nor is anything of its files changed.
func TestReadWhileAnotherWrites(t *testing.T) {
	path := closed(t, samples(300)...)
	cmd := child(appendForever, path, "")
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	ids := make(chan string, 1<<16)
	go func() {
		defer close(ids)
		for lines := bufio.NewReader(out); ; {
			id, ok := nextLine(lines)
			if !ok {
				return
			}
			ids <- id
		}
	}()
	<-ids // ready
	last := ""
	for range 20 {
		last = <-ids
		for len(ids) > 0 {
			last = <-ids
		}
		o, err := Read(path)
		require.NoError(t, err)
		first, err := collect(o.Stored())
		require.NoError(t, err)
		<-ids // another was written
		again, err := collect(o.Stored())
		require.NoError(t, err)
		require.NoError(t, o.Close())
		require.Equal(t, first, again, "one moment")
		require.Contains(t, idsOf(first), last, "what was acknowledged before is there")
	}
}

// Who comes to write to a record that nobody had open is noticed.
func TestReadNoticesWhoWrites(t *testing.T) {
	path := closed(t, samples(3)...)
	o, err := Read(path)
	require.NoError(t, err)
	_, err = runChild(appendSome, path, "1")
	require.NoError(t, err)
	_, err = collect(o.Stored())
	require.ErrorIs(t, err, ErrBusy)
	require.ErrorIs(t, o.Sound(), ErrBusy)
	require.NoError(t, o.Close())
	rows, _ := read(t, path)
	require.Len(t, rows, 4)
}

func TestReadRefuses(t *testing.T) {
	folder := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	r := openNew(t)
	newer := closed(t)
	execute(`PRAGMA user_version = 99`)(t, newer)
	doctored := closed(t)
	execute(`DROP TRIGGER entry_update`)(t, doctored)
	begun := closed(t)
	require.NoError(t, os.WriteFile(begun+"-journal", []byte("x"), 0o600))
	cases := []struct {
		name, path string
		is         error
		says       string
		reason     string
	}{
		{"missing", filepath.Join(folder, "none.db"), fs.ErrNotExist, "none.db", "no record is made of it"},
		{"empty", file("empty.db", ""), ErrNotRecord, "empty.db", "there is nothing to read"},
		{"letter", file("letter.txt", "Dear class,"), ErrNotRecord, "letter.txt: not a dullred record; the file was left untouched", "it is of another kind"},
		{"folder", folder, ErrNotRecord, folder, "not a file"},
		{"open here", r.Path(), nil, "this program has it open", "closing it would drop its locks"},
		{"newer", newer, ErrNewer, "newer version", "it may mean what we do not know"},
		{"doctored", doctored, ErrDamaged, "entry_update", "its entries may have been changed"},
		{"being made", begun, ErrBusy, "or was cut off while it made it", "half of a change may be in the file"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(c.path)
			require.ErrorContains(t, err, c.says, c.reason)
			if c.is != nil {
				require.ErrorIs(t, err, c.is, c.reason)
			}
		})
	}
	require.NoFileExists(t, filepath.Join(folder, "none.db"))
}
