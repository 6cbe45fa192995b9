package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// underFault is what may go wrong, what is then promised, and the test that holds it.
type underFault struct {
	fault, then string
	reads       string // what the smith reads of it, as the test looks for it; empty for nothing
	in, test    string // package and test
	one         string // its case, as it stands in the source; empty for all of the test
	how         string // byProcess or bySim
}

const (
	byProcess = "real processes"
	bySim     = "simulated clock or disk"
)

var underFaults = []underFault{
	{"killed while it makes a record", "there is a record or none", "", "cmd/dullred", "TestSystemKilled", "creation", byProcess},
	{"killed while it logs a course", "what was acknowledged is there once, with its advice", "", "cmd/dullred", "TestSystemKilled", "append", byProcess},
	{"killed while it moves an old record forward", "the record is old or new, never between", "", "cmd/dullred", "TestSystemKilled", "migrate", byProcess},
	{"killed while it writes a backup, an export or a sheet", "the file is whole or not there under its name; a part may stay beside it", "", "cmd/dullred", "TestSystemKilled", "backup, export or sheet", byProcess},
	{"killed while it merges or imports", "all of the other's entries are here, or none; nothing is left beside them", "", "cmd/dullred", "TestSystemKilled", "merge or import", byProcess},
	{"killed in a heat, at each step", "each step is there once, and the heat goes on", "", "cmd/dullred", "TestSystemKilled", "heat chain", byProcess},
	{"killed in a heat by a thermocouple", "what was told is recorded; the smith goes on by hand", "sound", "cmd/dullred", "TestSystemHeatByAProbeIsKilled", "at heat", byProcess},
	{"killed while an alert becomes due", "the next start raises it, once, with how late it is", "DANGER: TORCH LEFT LIT", "cmd/dullred", "TestSystemKilled", "torch left lit", byProcess},
	{"killed watch", "no alert is lost and none comes twice", "", "cmd/dullred", "TestSystemWatch", "killed at random", byProcess},
	{"power cut", "told to be logged only once it is synced", "", "cmd/dullred", "TestSystemSyncBeforeAcknowledgement", "", byProcess},
	{"any one write, sync, open, link, rename or removal fails", "it is refused in one sentence, or done as it says", "nothing was recorded", "cmd/dullred", "TestSystemFaultsAtEveryCall", "log a course", byProcess},
	{"a backup finds no room", "no file under its name, the record as it was", "as it was", "cmd/dullred", "TestSystemFaultsAtEveryCall", "back up", byProcess},
	{"output goes to a full disk", "the exit code says so, also after an entry was recorded", "", "cmd/dullred", "TestSystemFaultsAtEveryCall", "print an export", byProcess},
	{"disk full, commands", "all or none of an append; it goes on once there is room", "the disk is full", "schedule/record", "TestFullDisk", "", bySim},
	{"disk full under the bench", "the page goes on, the alarm sounds, the next key is logged once there is room", "the disk is full", "cmd/dullred", "TestSystemBenchFaults", "disk full", byProcess},
	{"disk that fails to write, or to sync, under the bench", "the same", "the disk failed to read or write", "cmd/dullred", "TestSystemBenchFaults", "disk that fails to sync", byProcess},
	{"an alert that cannot be written", "it is shown all the same, and written once there is room", "NOT LOGGED: no room on the disk", "tui", "TestAlertOnADeskThatFails", "", bySim},
	{"read-only record or folder", "refused at the start, nothing is left beside it", "the file or its folder cannot be written", "schedule/record", "TestReadOnly", "read-only record", byProcess},
	{"folder vanished under the bench", "no other record is begun in its place; put back, the bench goes on", "NOT LOGGED: ", "cmd/dullred", "TestSystemBenchFaults", "folder vanished", byProcess},
	{"record, log or folder removed or moved while open", "nothing is written that could not be found again", "the record was moved or removed while open", "schedule/record", "TestGone", "log removed", byProcess},
	{"record replaced under the bench", "the other record is left as it is", "NOT LOGGED: ", "cmd/dullred", "TestSystemBenchFaults", "record replaced", byProcess},
	{"any byte of the record flipped", "a figure or an error, never a panic", "", "schedule/record", "TestFlippedBytes", "", bySim},
	{"clock set forward a year", "nothing is raised, nothing becomes late by it", "", "tui", "TestClockSetByAYear", "torch, forward", bySim},
	{"clock set back a year", "the same", "", "tui", "TestClockSetByAYear", "torch, back", bySim},
	{"clock set under an alert that stands", "it does not become late", "TORCH LEFT LIT.", "tui", "TestClockSetUnderAStandingAlert", "", bySim},
	{"clock set back before a watch is started", "entries stay in the order in which they were made", "", "cmd/dullred", "TestWatchClockSetBackBefore", "", bySim},
	{"suspended for nine hours", "one alert, one bell, with how late it is", "late by 8 h 30 min", "tui", "TestSleepOfNineHours", "", bySim},
	{"two benches at once on one record", "both log, an alert is raised once", "logged: ", "cmd/dullred", "TestSystemBenchFaults", "two benches", byProcess},
	{"two writers as fast as they can", "nothing is lost and nothing is there twice", "", "schedule/record", "TestTwoWriters", "", byProcess},
	{"another program keeps the record locked", "it waits five seconds, then refuses", "another program keeps the record locked", "schedule/record", "TestLockedByAnother", "", byProcess},
	{"a disk that is slow", "presses are told from bounces by when they were typed", "", "cmd/dullred", "TestSystemSlowRecord", "", byProcess},
	{"stopped (SIGSTOP) and continued", "the alarm that became due stands at once, the key that waited counts", "DANGER: TORCH LEFT LIT", "cmd/dullred", "TestSystemBenchFaults", "frozen", byProcess},
	{"a notification daemon that never answers", "no key waits for it; said once", "no desktop notice can be shown", "cmd/dullred", "TestSystemNotices", "silent desktop", byProcess},
	{"a message bus that is stopped", "the same", "no desktop notice can be shown", "cmd/dullred", "TestSystemNotices", "stopped bus", byProcess},
	{"the terminal goes away", "the bench ends, what was logged is there", "", "cmd/dullred", "TestSystemBench", "terminal lost", byProcess},
	{"the terminal goes away without a signal", "the same", "", "cmd/dullred", "TestSystemBench", "terminal lost without a signal", byProcess},
	{"SIGHUP", "the terminal is given back, the record is sound", "", "cmd/dullred", "TestSystemBench", "SIGHUP", byProcess},
	{"SIGTERM", "the same", "", "cmd/dullred", "TestSystemBench", "SIGTERM", byProcess},
	{"SIGINT", "the same", "", "cmd/dullred", "TestSystemBench", "SIGINT", byProcess},
	{"SIGTERM in a heat by a thermocouple", "the heat is out, its curve is kept", "", "cmd/dullred", "TestSystemHeatByAProbeIsEnded", "SIGTERM at heat", byProcess},
	{"stopped by Ctrl-Z", "the shell has its terminal, fg brings the bench", "", "cmd/dullred", "TestSystemBench", "stopped by a key", byProcess},
	{"a mistake of ours in a goroutine", "the terminal is given back before the panic is told", "", "tui/term", "TestSystemTellsThePanicLast", "", byProcess},
	{"the lead of the thermocouple is pulled", "the heat goes on, and goes on when it is plugged in again", "probe: unplugged", "cmd/dullred", "TestSystemProbeOnTheScreen", "", byProcess},
	{"the reader of a watch stopped reading", "it ends when it is told to", "", "cmd/dullred", "TestSystemWatch", "ended while it cannot write", byProcess},
	{"what goes wrong with a shared record", "the bench logs on alone; one sentence says why", "", "cmd/dullred-share", "TestSystemWhatGoesWrong", "", byProcess},
}

// TestFaultsPage holds the page of faults to this table, and the table to the tests: a
// row names a test that is there, and what the smith reads is what that test looks for.
// Run it with -update to write the page again.
func TestFaultsPage(t *testing.T) {
	root := moduleRoot(t)
	var b strings.Builder
	b.WriteString("# Faults\n\nWhat may go wrong at a bench, what is promised then, what the smith reads of it, and the test that\n" +
		"holds it; written by `go test ./cmd/dullred -run TestFaultsPage -update`. Tests whose names begin\n" +
		"with TestSystem carry the tag `system`. A clock is set, and a machine sleeps, in simulation only.\n\n" +
		"| fault | then | the smith reads | shown with | test |\n|---|---|---|---|---|\n")
	for _, f := range underFaults {
		require.Empty(t, f.rotten(sourcesOfTests(t, filepath.Join(root, f.in))), f.fault)
		name := f.in + " " + f.test
		if f.one != "" {
			name += ", " + f.one
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", f.fault, f.then, cmp.Or(strings.TrimSuffix(f.reads, ": "), "-"), f.how, name)
	}
	path := filepath.Join(root, "testdata", "FAULTS.md")
	if *updateReadme {
		require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o644))
	}
	page, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, b.String(), string(page), "run with -update and read what changed")
}

// sourcesOfTests are the files of tests in a folder.
func sourcesOfTests(t *testing.T, folder string) (texts []string) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(folder, "*_test.go"))
	require.NoError(t, err)
	for _, path := range paths {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		if filepath.Base(path) != "faults_test.go" || filepath.Base(folder) != "dullred" { // this file proves nothing
			texts = append(texts, string(text))
		}
	}
	return texts
}

// rotten says in what a row does not agree with the tests; empty where it does.
func (f underFault) rotten(texts []string) string {
	holds := func(what string, also func(string) bool) (found []string) {
		for _, text := range texts {
			if strings.Contains(text, what) && also(text) {
				found = append(found, text)
			}
		}
		return found
	}
	anything := func(string) bool { return true }
	if len(holds("func "+f.test+"(", anything)) == 0 {
		return "there is no test " + f.test
	}
	where := `"` + f.one + `"`
	if f.one == "" {
		where = "func " + f.test + "("
	}
	if len(holds(where, anything)) == 0 {
		return "there is no case " + where
	}
	if len(holds(where, func(text string) bool { return strings.Contains(text, f.reads) })) == 0 {
		return "no test looks for " + f.reads
	}
	return ""
}

// A row that has gone rotten is found.
func TestFaultsRot(t *testing.T) {
	texts := []string{"func TestDisk(t *testing.T) { {\"full\", \"NOT LOGGED\"} }"}
	cases := []struct {
		name, rot, reason string
		row               underFault
	}{
		{"sound", "", "test, case and words are there", underFault{test: "TestDisk", one: "full", reads: "NOT LOGGED"}},
		{"no test", "there is no test TestDesk", "it was renamed", underFault{test: "TestDesk"}},
		{"no case", "there is no case \"empty\"", "it was taken out", underFault{test: "TestDisk", one: "empty"}},
		{"other words", "no test looks for not logged", "the sentence was changed", underFault{test: "TestDisk", one: "full", reads: "not logged"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.rot, c.row.rotten(texts), c.reason) })
	}
}
