package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule/record"
	"dullred/schedule/share"
)

// beside runs dullred-share beside a bench until the test ends it.
func (b *bench) beside(args ...string) (out *lockedBuffer, end func() int) {
	out = &lockedBuffer{}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan int, 1)
	var errOut bytes.Buffer
	go func() {
		ended <- b.app(out).run(ctx, append([]string{"run", "--to", address, "--record", b.record}, args...), &errOut)
	}()
	end = func() int {
		cancel()
		code := <-ended
		require.Empty(b.t, errOut.String())
		return code
	}
	return out, end
}

// until waits until something was printed.
func until(t *testing.T, out *lockedBuffer, words string) {
	t.Helper()
	require.Eventually(t, func() bool { return strings.Contains(out.String(), words) }, 20*time.Second, 10*time.Millisecond, words)
}

// A run tells what happens in sentences, and leaves how it stands for others to read.
func TestRun(t *testing.T) {
	b := newBench(t, 12)
	out, end := b.beside()
	until(t, out, "with the shared record since 18:40; Ctrl-C ends it, at any time\nshared 12 entries at 18:40\n")
	b.others("there 1")
	until(t, out, "1 entry came in at 18:40\n")
	b.append(nil, record.Row(note("one more", b.id)))
	until(t, out, "shared 1 entry at 18:40\n")

	_, state, _ := b.ran("state")
	require.Contains(t, state, "shared    just now\nwaiting   0 entries of this bench\n")
	code, _, errOut := b.ran("send", "--to", address)
	require.Equal(t, exitRefused, code)
	require.Contains(t, errOut, "another dullred-share carries the entries of this record; it goes on, and this one did nothing; end that one first")
	_, compared, _ := b.ran("compare", "--to", address)
	require.Contains(t, compared, "equal     in 1 piece", "a comparison may run beside it")

	require.Equal(t, exitOK, end())
	_, state, _ = b.ran("state")
	require.Contains(t, state, "mind      no dullred-share run works beside this record")
}

// A bench that is alone says so once, and since when.
func TestRunAlone(t *testing.T) {
	b := newBench(t, 1)
	b.fault = share.ErrUnreachable
	out, end := b.beside()
	until(t, out, "alone since 18:40: the shared record cannot be reached; see that the server runs and the cable is in; dullred-share run tries again by itself; the bench goes on, nothing is lost\n")
	b.append(nil, record.Row(note("while it is alone", b.id)))
	_, state, _ := b.ran("state")
	require.Contains(t, state, "alone     since 18:40: the shared record cannot be reached\nwaiting   0 entries of this bench, and 2 entries that no dullred-share has looked at yet\n")
	require.Equal(t, exitOK, end())
	require.Equal(t, 1, strings.Count(out.String(), "alone since"))
	require.True(t, strings.HasSuffix(out.String(), "\nended at 18:40; 2 entries of this bench wait, and go out when dullred-share run is started again\n"), out.String())
}

// An event for a machine is one line of JSON.
func TestRunJSON(t *testing.T) {
	b := newBench(t, 2)
	out, end := b.beside("--json")
	until(t, out, `{"at":"2024-03-05T18:40:00Z","event":"carried","sent":2}`+"\n")
	require.Equal(t, exitOK, end())
	require.True(t, strings.HasSuffix(out.String(), `{"at":"2024-03-05T18:40:00Z","event":"ended","why":"nothing of this bench waits"}`+"\n"), out.String())
}

// A record that is moved away is waited for, and another in its place taken.
func TestRunThroughARestore(t *testing.T) {
	b := newBench(t, 3)
	out, end := b.beside()
	until(t, out, "shared 3 entries")
	for _, name := range []string{b.record, b.record + "-wal", b.record + "-shm"} {
		if err := os.Rename(name, name+".old"); !errors.Is(err, os.ErrNotExist) {
			require.NoError(t, err)
		}
	}
	until(t, out, "since 18:40: the record is not where it was; nothing is carried until it is back\n")
	b.append([]record.Label{{ID: b.id, Class: record.BenchClass, Text: share.OwnBench}}, record.Row(note("after the restore", b.id)))
	until(t, out, "shared 1 entry at 18:40, and 3 entries came in\n")
	require.Equal(t, exitOK, end())
}
