//go:build system

package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
	"dullred/schedule/record"
)

const killsUsually = 300 // in all; DULLRED_KILLS has another number

// killing is a kind of work that is cut off again and again.
type killing struct {
	name   string
	share  int // of a hundred kills
	rounds int // kills of one record, before another is made

	begin func(*testing.T, *struck)
	args  func(*testing.T, *struck) []string // of the command that is cut off
	left  func(*testing.T, *struck)          // looks at the record before it is opened; may be nil

	// after looks at what is recorded, and reports whether out acknowledged it.
	after func(t *testing.T, s *struck, out []byte, all stored) bool
}

// struck is a record on which commands are killed.
type struck struct {
	program
	folder string
	acked  []string // ids that must be there, each once
	tries  int      // commands that were started
	done   int      // steps of a chain that are recorded
	rows   int      // entries that are recorded
	made   string   // file that is being written
	totals *killTotals
}

// stored are the entries of a record in order, and how often each id came.
type stored struct {
	rows   []record.Row
	counts map[string]int
}

// killTotals is what became of everything that was killed.
type killTotals struct {
	mutex sync.Mutex
	kills map[string]int

	acknowledged, untold                int // untold is recorded, and killed before it could say so
	lost, doubled, between, half, parts int
	alertsLost, alertsDoubled           int
	alerts                              alertTotals
}

func (k *killTotals) add(n *int, by int) {
	k.mutex.Lock()
	*n += by
	k.mutex.Unlock()
}

func (k *killTotals) killed(name string) {
	k.mutex.Lock()
	k.kills[name]++
	k.mutex.Unlock()
}

func (k *killTotals) String() string {
	var kinds []string
	all := 0
	for _, name := range append(killNames(killings), alertKills) {
		kinds = append(kinds, fmt.Sprintf("%s %d", name, k.kills[name]))
		all += k.kills[name]
	}
	return fmt.Sprintf("kills: %d (%s); acknowledged %d, recorded and not yet told %d, lost %d, doubled %d, between two versions %d; alerts lost %d, doubled %d; half-made files %d, parts left beside %d",
		all, strings.Join(kinds, ", "), k.acknowledged, k.untold, k.lost, k.doubled, k.between, k.alertsLost, k.alertsDoubled, k.half, k.parts)
}

// Whatever the program does while it is killed, nothing that it acknowledged is lost,
// nothing is there twice, and no file is half made under its name. What was handed to
// the operating system survives a kill, so this says nothing of a power cut.
func TestSystemKilled(t *testing.T) {
	t.Parallel()
	kills, err := strconv.Atoi(cmp.Or(os.Getenv("DULLRED_KILLS"), strconv.Itoa(killsUsually)))
	require.NoError(t, err)
	require.GreaterOrEqual(t, kills, 100)
	path := built.Program(t, "dullred/cmd/dullred")
	totals := &killTotals{kills: map[string]int{}}
	var both sync.WaitGroup
	both.Go(func() { killAlerts(t, path, totals, kills-others(kills)) })
	for _, k := range killings {
		t.Run(k.name, func(t *testing.T) { killAll(t, path, k, totals, kills*k.share/100) })
	}
	both.Wait()
	t.Log(totals)
	t.Log(&totals.alerts)
	require.Positive(t, totals.acknowledged)
	require.Positive(t, totals.untold, "no kill fell between the disk and the answer")
	require.Positive(t, totals.alerts.shown, "every kill came too early")
	require.Zero(t, totals.lost+totals.doubled+totals.between+totals.half+totals.alertsLost+totals.alertsDoubled)
	require.Zero(t, totals.alerts.late+totals.alerts.slow)
}

// others are the kills that are not of alerts.
func others(kills int) (n int) {
	for _, k := range killings {
		n += kills * k.share / 100
	}
	return n
}

func killNames(all []killing) (names []string) {
	for _, k := range all {
		names = append(names, k.name)
	}
	return names
}

// killAll kills one kind of work a number of times.
func killAll(t *testing.T, path string, k killing, totals *killTotals, kills int) {
	var s *struck
	usual := 100 * time.Millisecond // of a command that is not killed, on this machine now
	for i := range kills {
		if i%k.rounds == 0 {
			s = &struck{program: program{path: path}, folder: t.TempDir(), totals: totals}
			s.record = filepath.Join(s.folder, "record.db")
			k.begin(t, s)
			s.rows = len(s.acked)
		}
		for killed, tries := false, 0; !killed; tries++ {
			require.Less(t, tries, 50, "the commands end before they can be killed")
			var out []byte
			from := time.Now()
			out, killed = s.strike(t, k.args(t, s), usual/4+rand.N(usual))
			if !killed {
				usual = (usual + time.Since(from)) / 2
			}
			if k.left != nil {
				k.left(t, s)
			}
			all := s.whole(t)
			if k.after(t, s, out, all) {
				totals.add(&totals.acknowledged, 1)
			} else if len(all.rows) > s.rows {
				totals.add(&totals.untold, 1)
			}
			s.rows = len(all.rows)
			s.tries++
		}
		totals.killed(k.name)
	}
}

// strike runs a command, kills it after a while unless it has ended, and gives what it
// answered, which is all or nothing.
func (s *struck) strike(t *testing.T, args []string, after time.Duration) (out []byte, killed bool) {
	t.Helper()
	cmd := s.command(append(args, "--json")...)
	var answer, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &answer, &complaint
	cmd.Env = append(os.Environ(), "TMPDIR="+s.folder)
	require.NoError(t, cmd.Start())
	timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	_ = cmd.Wait() // how it ended is read from its state
	timer.Stop()
	status, ok := cmd.ProcessState.Sys().(syscall.WaitStatus)
	require.True(t, ok)
	killed = status.Signaled() && status.Signal() == syscall.SIGKILL
	require.True(t, killed || status.ExitStatus() == exitOK, "%q failed: %s", args, complaint.String())
	require.True(t, answer.Len() == 0 || json.Valid(answer.Bytes()), "half an answer: %s", answer.String())
	return answer.Bytes(), killed
}

// whole opens the record as the next command would, and wants what was acknowledged in
// it once. There may be no record yet.
func (s *struck) whole(t *testing.T) stored {
	t.Helper()
	if _, err := os.Stat(s.record); os.IsNotExist(err) {
		require.Empty(t, s.acked)
		return stored{}
	}
	all := storedIn(t, s.record)
	s.count(t, all)
	return all
}

// storedIn reads a whole record that must be sound.
func storedIn(t *testing.T, path string) stored {
	t.Helper()
	r, err := record.Open(path)
	require.NoError(t, err)
	defer r.Close()
	_, err = r.Check()
	require.NoError(t, err)
	all := stored{counts: map[string]int{}}
	for row, err := range r.All() {
		require.NoError(t, err)
		all.rows = append(all.rows, row)
		all.counts[row.ID]++
	}
	return all
}

// count looks for what was lost or is there twice.
func (s *struck) count(t *testing.T, all stored) {
	t.Helper()
	for _, id := range s.acked {
		if all.counts[id] == 0 {
			s.totals.add(&s.totals.lost, 1)
			t.Errorf("acknowledged entry %s is lost", id)
		}
	}
	for id, n := range all.counts {
		if n > 1 {
			s.totals.add(&s.totals.doubled, 1)
			t.Errorf("entry %s is there %d times", id, n)
		}
	}
}

// mustKeep has an answer's entry be there from now on.
func (s *struck) mustKeep(t *testing.T, out []byte, all stored) bool {
	t.Helper()
	var answer struct{ ID string }
	if len(out) == 0 {
		return false
	}
	require.NoError(t, json.Unmarshal(out, &answer))
	require.NotEmpty(t, answer.ID)
	s.acked = append(s.acked, answer.ID)
	s.count(t, all)
	return true
}

// kinds are those of the entries that are asked for, in order.
func (all stored) kinds(of ...string) (kinds []string) {
	for _, row := range all.rows {
		if slices.Contains(of, row.Kind) {
			kinds = append(kinds, row.Kind)
		}
	}
	return kinds
}

// The count must be able to find what is lost or doubled: of a test that fails inside,
// the numbers are looked at.
func TestSystemKillsAreCounted(t *testing.T) {
	s := &struck{acked: []string{"kept", "lost"}, totals: &killTotals{kills: map[string]int{}}}
	s.count(&testing.T{}, stored{counts: map[string]int{"kept": 1, "twice": 2}})
	require.Equal(t, []int{1, 1}, []int{s.totals.lost, s.totals.doubled})
}
