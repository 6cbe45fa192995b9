package main

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
)

// class is a shared record with benches and names, and what was done in it.
type class struct {
	share.Store
	benches  []postgres.Bench
	labels   []share.Label
	fault    error
	released []string
	forgot   []string
}

func (c *class) Benches(context.Context) ([]postgres.Bench, error) { return c.benches, c.fault }

func (c *class) Named(_ context.Context, class, text string) (share.Label, bool, error) {
	for _, l := range c.labels {
		if l.Class == class && strings.EqualFold(l.Text, text) {
			return l, true, nil
		}
	}
	return share.Label{}, false, c.fault
}

func (c *class) Release(_ context.Context, bench string) error {
	c.released = append(c.released, bench)
	return c.fault
}

func (c *class) Forget(_ context.Context, id string) error {
	c.forgot = append(c.forgot, id)
	return c.fault
}

func newClass() *class {
	return &class{
		Store: share.NewMemory(id("shared")).As(""),
		benches: []postgres.Bench{
			{ID: id("window"), Name: "Window", Role: "bench1", Entries: 1204, Last: hour},
			{ID: id("door"), Name: "door", Role: "bench2"},
			{ID: id("stove"), Name: "stove", Entries: 1, Last: hour.Add(-time.Hour)},
			{ID: id("yard"), Role: "door"},
		},
		labels: []share.Label{{ID: id("anna"), Class: "hand", Text: "Anna O"}, {ID: id("spoon"), Class: "piece", Text: "spoon"}},
	}
}

// taught runs a command against a class.
func (c *class) taught(t *testing.T, typed string, args ...string) (code int, out, errOut string) {
	var o, e bytes.Buffer
	a := &app{in: strings.NewReader(typed), out: &o, now: func() time.Time { return hour },
		open: func(context.Context, target, string) (share.Store, error) { return c, nil }}
	code = a.run(t.Context(), append(args, "--to", address), &e)
	return code, o.String(), e.String()
}

func TestBenches(t *testing.T) {
	c := newClass()
	code, out, errOut := c.taught(t, "", "benches")
	require.Equal(t, exitOK, code, errOut)
	require.Equal(t, "Window\n  role bench1; 1204 entries, last 2024-03-05 18:40\n"+
		"door\n  role bench2; 0 entries, nothing yet\n"+
		"stove\n  free: no role has it; 1 entry, last 2024-03-05 17:40\n"+
		id("yard")+"\n  role door; 0 entries, nothing yet\n", out)
	_, out, _ = c.taught(t, "", "benches", "--json")
	var list []benchJSON
	require.NoError(t, json.Unmarshal([]byte(out), &list))
	require.Equal(t, benchJSON{ID: id("window"), Name: "Window", Role: "bench1", Entries: 1204, Last: hour}, list[0])
	require.Len(t, list, 4)

	c.benches = nil
	_, out, _ = c.taught(t, "", "benches")
	require.Equal(t, "no bench has come yet\n", out)
	_, out, _ = c.taught(t, "", "benches", "--json")
	require.Equal(t, "[]\n", out)
}

func TestRelease(t *testing.T) {
	cases := []struct {
		name, typed string
		args        []string
		code        int
		says        string
		released    []string
		reason      string
	}{
		{"agreed to", "", []string{"window", "--yes"}, exitOK, "released  Window, from the role bench1; its entries stay\nnext      the first role that comes with its record has it, and bench1 is free for another bench\n", []string{id("window")}, "case does not matter"},
		{"typed again", "window\n", []string{"window"}, exitOK, "released  Window", []string{id("window")}, "the name was typed twice"},
		{"by its role", "", []string{"bench2", "--yes"}, exitOK, "released  door, from the role bench2", []string{id("door")}, "roles are what is handed out"},
		{"by its id", "", []string{id("yard"), "--yes"}, exitOK, "released  " + id("yard"), []string{id("yard")}, "it has no name"},
		{"typed otherwise", "wndow\n", []string{"window"}, exitRefused, "it was not agreed to; nothing was done; type the name as you gave it, or add --yes", nil, "somebody hesitated"},
		{"nothing typed", "", []string{"window"}, exitRefused, "it was not agreed to", nil, "nobody is there"},
		{"no such bench", "", []string{"attic", "--yes"}, exitRefused, `there is no bench "attic"; nothing was done; dullred-share benches names them`, nil, "a mistyped name"},
		{"two of them", "", []string{"door", "--yes"}, exitRefused, "is the name of one bench and the role of another", nil, "none is guessed"},
		{"free already", "", []string{"stove", "--yes"}, exitRefused, "no role has the bench", nil, "there is nothing to do"},
		{"no name", "", nil, exitRefused, "expected the bench, got 0 words", nil, "none is guessed"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := newClass()
			code, out, errOut := s.taught(t, c.typed, append([]string{"release"}, c.args...)...)
			require.Equal(t, c.code, code, errOut)
			require.Contains(t, out+errOut, c.says)
			require.Equal(t, c.released, s.released)
		})
	}
	_, out, errOut := newClass().taught(t, "window\n", "release", "window", "--json")
	var j releasedJSON
	require.NoError(t, json.Unmarshal([]byte(out), &j), "the question is not among the figures")
	require.Equal(t, "bench1", j.Bench.Role)
	require.Equal(t, "The bench Window is taken from the role bench1; its entries stay. Type its name to go on: ", errOut)
}

func TestForget(t *testing.T) {
	cases := []struct {
		name, typed string
		args        []string
		code        int
		says        string
		forgot      []string
		reason      string
	}{
		{"a hand", "", []string{"hand", "anna o", "--yes"}, exitOK, "forgotten the hand Anna O, in the shared record\n" +
			"stays     its entries, without the name; notes and marks that somebody typed; backups and the log of the server\n" +
			"next      at each bench: dullred forget 'Anna O', because this did not reach the benches\n", []string{id("anna")}, "the next step can be copied"},
		{"a piece", "spoon\n", []string{"piece", "spoon"}, exitOK, "mind      this did not reach the benches: those that have the name keep it\n", []string{id("spoon")}, "dullred erases hands alone"},
		{"not agreed to", "\n", []string{"hand", "Anna O"}, exitRefused, "it was not agreed to", nil, "it cannot be taken back"},
		{"of another class", "", []string{"piece", "anna o", "--yes"}, exitRefused, `the shared record has no piece named "anna o"`, nil, "a hand is no piece"},
		{"a class that is none", "", []string{"anvil", "anna", "--yes"}, exitRefused, `"anvil" is not piece, hand or bench`, nil, "there are three"},
		{"one word", "", []string{"anna", "--yes"}, exitRefused, "expected piece, hand or bench, and the name, got 1 word", nil, "which class is not guessed"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := newClass()
			code, out, errOut := s.taught(t, c.typed, append([]string{"forget"}, c.args...)...)
			require.Equal(t, c.code, code, errOut)
			require.Contains(t, out+errOut, c.says)
			require.Equal(t, c.forgot, s.forgot)
		})
	}
}

// A teacher who is refused hears of the shared record, not of a bench.
func TestTeacherRefused(t *testing.T) {
	for _, args := range [][]string{{"benches"}, {"release", "window", "--yes"}, {"forget", "hand", "nobody", "--yes"}} {
		c := newClass()
		c.fault = share.ErrRights
		code, _, errOut := c.taught(t, "", args...)
		require.Equal(t, exitShared, code)
		require.Equal(t, "dullred-share: the role has no right to do that; what was shared is kept; use a role that was made with dullred-share role NAME --as teacher.\n", errOut)
		c.fault = share.ErrUnreachable
		_, _, errOut = c.taught(t, "", args...)
		require.Contains(t, errOut, "what was shared is kept; see that the server runs and the cable is in, and try again")
	}
}

// What is copied from an answer into a shell is one word there.
func TestQuoted(t *testing.T) {
	for name, want := range map[string]string{"AB": "AB", "Anna O": "'Anna O'", "O'Neil": `'O'\''Neil'`, "$HOME": "'$HOME'"} {
		require.Equal(t, want, quoted(name))
	}
}
