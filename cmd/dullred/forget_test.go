package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/record"
)

// traces are the files beside a record, itself among them, whose bytes hold a text
// in any case.
func traces(t testing.TB, path, text string) (names []string) {
	t.Helper()
	files, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	for _, f := range files {
		raw, err := os.ReadFile(filepath.Join(filepath.Dir(path), f.Name()))
		require.NoError(t, err)
		if bytes.Contains(bytes.ToLower(raw), []byte(strings.ToLower(text))) {
			names = append(names, f.Name())
		}
	}
	return names
}

// The name is gone from every byte of the files, not only from what they answer.
func TestForgetLeavesNoByte(t *testing.T) {
	const name = "Wickentree-4711"
	path := filepath.Join(t.TempDir(), "record.db")
	for _, args := range [][]string{
		{"piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8", "--hand", name},
		{"pass", "spoon", "7x7", "--hand", name},
		{"pass", "spoon", "6.9x6.9", "--hand", "mb"},
	} {
		_, errOut, code := atClass(t, path, args...)
		require.Equal(t, exitOK, code, errOut)
	}
	taught(t, path, strings.ToUpper(name), time.Now().Add(-time.Hour), schedule.Drilled{Asked: 1})
	require.Equal(t, []string{"record-lessons.db", "record.db"}, traces(t, path, name), "the check can fail")

	_, _, code := atClass(t, path, "forget", name, "--dry-run")
	require.Equal(t, exitOK, code)
	require.Equal(t, []string{"record-lessons.db", "record.db"}, traces(t, path, name), "a dry run erases nothing")
	out, errOut, code := atClass(t, path, "forget", name)
	require.Equal(t, exitOK, code, errOut)
	require.NotContains(t, out, "mind")
	require.Empty(t, traces(t, path, name))
	out, _, code = atClass(t, path, "record", "check")
	require.Equal(t, exitOK, code)
	require.Contains(t, out, "sound")
}

// Labels of many hands fill pages that are split, joined and written over, and may then
// hold a name in bytes they do not use: all of them are written anew.
func TestForgetAmongMany(t *testing.T) {
	const hands = 400
	path := filepath.Join(t.TempDir(), "record.db")
	name := func(n int) string { return fmt.Sprintf("Wickentree-%04d-%s", n, strings.Repeat("x", n%40)) }
	r, err := record.Open(path)
	require.NoError(t, err)
	for _, n := range rand.New(rand.NewPCG(1, 5)).Perm(hands) {
		require.NoError(t, r.AppendNamed([]record.Label{{ID: string(growthID(n%7, n)), Class: record.HandClass, Text: name(n)}}))
	}
	require.NoError(t, r.Close())
	a := &app{record: path, hand: "mb", now: time.Now, getenv: func(string) string { return "" }}
	for n := 0; n < hands; n += 2 {
		require.NotEmpty(t, traces(t, path, name(n)), "the check can fail")
		done, err := forgetIn(a.open, strings.ToLower(name(n)), false)
		require.NoError(t, err)
		require.True(t, done.Named)
		require.Empty(t, traces(t, path, name(n)), "hand %d", n)
		require.False(t, done.Found, "what is said is what is so")
	}
	copied := filepath.Join(t.TempDir(), "copy.db")
	_, errOut, code := atClass(t, path, "record", "backup", copied)
	require.Equal(t, exitOK, code, errOut)
	for n := 0; n < hands; n += 2 {
		require.Empty(t, traces(t, copied, name(n)), "nor in a copy")
	}
}

func TestHoldsLabel(t *testing.T) {
	l := record.Label{ID: string(growthID(1, 7)), Class: record.HandClass, Text: "kw"}
	cases := []struct {
		name, raw, reason string
		want              bool
	}{
		{"the row", "\x00\x01" + l.ID + "handkwKW\x00", "id, class and text", true},
		{"the index", "\x04\x15\x11UhandKW" + l.ID[:9], "the lengths, class and name, in the case it is compared in, and some of the id", true},
		{"another name that begins so", "\x04\x15\x13UhandKWA", "its length is another", false},
		{"the id and the name apart", l.ID + "\x00kw", "entries hold the id for good, and a note may say kw", false},
		{"another hand of that id's neighbour", string(growthID(1, 8)) + "handkw", "the name is somebody else's now", false},
		{"nothing", "", "a file of no bytes", false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "record.db")
			require.NoError(t, os.WriteFile(path, []byte(c.raw), 0o600))
			found, err := holdsLabel(path, l)
			require.NoError(t, err)
			require.Equal(t, c.want, found, c.reason)
		})
	}
	_, err := holdsLabel(filepath.Join(t.TempDir(), "none.db"), l)
	require.Error(t, err, "what cannot be read is not said to be free of it")
}

// Another program that reads keeps the log from being emptied: that is said.
func TestForgetWhileAnotherReads(t *testing.T) {
	const name = "Wickentree-4711"
	path := filepath.Join(t.TempDir(), "record.db")
	for _, hand := range []string{name, "mb"} {
		_, errOut, code := atClass(t, path, "piece", "new", "spoon of "+hand[:2], "--alloy", "sterling", "--size", "8x8", "--hand", hand)
		require.Equal(t, exitOK, code, errOut)
	}
	other, err := record.Open(path)
	require.NoError(t, err)
	defer other.Close()
	var out, errOut string
	var code int
	read := false
	for _, err := range other.All() { // in the middle of reading
		require.NoError(t, err)
		out, errOut, code = atClass(t, path, "forget", "mb")
		read = true
		break
	}
	require.True(t, read)
	require.Equal(t, exitOK, code, errOut)
	require.Contains(t, strings.Join(strings.Fields(out), " "), "mind another dullred has the file open: traces of the name may stay in its log")
}

// The names in the index are as they are looked for, short and long, in any letters.
func TestHoldsLabelOfARecord(t *testing.T) {
	for _, name := range []string{"k", "12", "Mb", strings.Repeat("w", 57), strings.Repeat("w", 58), strings.Repeat("w", 60), "Ångström", "ſtraße"} {
		path := filepath.Join(t.TempDir(), "record.db")
		r, err := record.Open(path)
		require.NoError(t, err)
		l := record.Label{ID: string(growthID(1, 7)), Class: record.HandClass, Text: name}
		require.NoError(t, r.AppendNamed([]record.Label{l}))
		require.NoError(t, r.Close())
		held, err := holdsLabel(path, l)
		require.NoError(t, err)
		require.True(t, held, name)
		l.ID = string(growthID(1, 8)) // so that only the index can tell
		held, err = holdsLabel(path, l)
		require.NoError(t, err)
		require.True(t, held, name)
	}
}
