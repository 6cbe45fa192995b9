//go:build system

package main

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A course that was acknowledged is in the log whenever the program is killed,
// and none is there in half: each pass stands with the advice that was shown
// after it. What was handed to the operating system survives a kill, so this
// says nothing of a power cut.
func TestSystemKilledPassesLoseNothing(t *testing.T) {
	const kills = 30
	p := newProgram(t)
	p.must(t, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	began := time.Now()
	require.NoError(t, p.command("pass", "spoon").Run())
	whole := time.Since(began) // of a pass that is not killed, on this machine now
	var acknowledged []string
	attempts, killed := 0, 0
	for ; killed < kills; attempts++ {
		require.Less(t, attempts, 20*kills, "the passes end before they can be killed")
		id, wasKilled := p.passUntilKilled(t, rand.N(2*whole))
		if id != "" {
			acknowledged = append(acknowledged, id)
		}
		if wasKilled {
			killed++
		}
	}
	logged := p.kinds(t, "spoon")
	passes, shown := 0, 0
	for _, kind := range logged {
		switch kind {
		case "pass":
			passes++
		case "advice shown":
			shown++
		}
	}
	for _, id := range acknowledged {
		require.Equal(t, "pass", logged[id], "acknowledged pass %s is lost", id)
	}
	require.NotEmpty(t, acknowledged)
	require.Equal(t, passes, shown, "a pass is recorded without the advice that was shown after it")
	require.LessOrEqual(t, passes, attempts+1)
	p.must(t, "pass", "spoon")
	p.must(t, "advise", "spoon")
	t.Logf("%d kills of %d passes: %d acknowledged, %d recorded", killed, attempts, len(acknowledged), passes)
}

// passUntilKilled starts a pass, kills it after a while unless it has ended,
// and gives the id it acknowledged, if it came to that.
func (p program) passUntilKilled(t *testing.T, after time.Duration) (id string, killed bool) {
	t.Helper()
	cmd := p.command("pass", "spoon", "--json")
	var out bytes.Buffer
	cmd.Stdout = &out
	require.NoError(t, cmd.Start())
	timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	_ = cmd.Wait() // how it ended is read from its state
	timer.Stop()
	status, ok := cmd.ProcessState.Sys().(syscall.WaitStatus)
	require.True(t, ok)
	killed = status.Signaled() && status.Signal() == syscall.SIGKILL
	require.True(t, killed || status.ExitStatus() == exitOK, "a pass failed: %s", out.String())
	if out.Len() == 0 {
		return "", killed
	}
	var answer struct{ ID string }
	require.NoError(t, json.Unmarshal(out.Bytes(), &answer), "half an answer")
	return answer.ID, killed
}

// kinds are the entries of a piece by id.
func (p program) kinds(t *testing.T, piece string) map[string]string {
	t.Helper()
	var entries []struct{ ID, Kind string }
	require.NoError(t, json.Unmarshal([]byte(p.must(t, "log", piece, "--json")), &entries))
	all := map[string]string{}
	for _, e := range entries {
		require.Empty(t, all[e.ID], "entry %s came twice", e.ID)
		all[e.ID] = e.Kind
	}
	return all
}
