//go:build system

package term

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Most processor time a program at rest may use in a second.
const mostIdle = 50 * time.Millisecond

// requireAlive types a key, waits until it shows as the n-th, and measures the
// processor time of the second after it.
func (e *terminal) requireAlive(n int) {
	e.t.Helper()
	e.send("k")
	e.awaitText(fmt.Sprintf("keys %d.", n))
	e.requireIdle(e.cmd.Process.Pid)
}

// requireIdle checks that a process does nothing for a second.
func (e *terminal) requireIdle(pid int) {
	e.t.Helper()
	before := processor(e.t, pid)
	time.Sleep(time.Second)
	used := processor(e.t, pid) - before
	e.t.Logf("processor time in a second at rest: %v", used)
	require.Less(e.t, used, mostIdle)
}

// No byte that is not UTF-8 takes a key away, and none keeps the program busy.
//
// Outside check (reference): the terminal emulator charmbracelet/x/vt: any byte that is typed.
func TestSystemTakesAnyByte(t *testing.T) {
	e := startPad(t, plain)
	keys := 0
	arrives := func(b byte) {
		keys++
		e.await(fmt.Sprintf("the key after byte %#x", b), func() bool {
			return strings.Contains(e.text(), fmt.Sprintf("keys %d.", keys))
		})
	}
	for b := 0x80; b <= 0xff; b++ {
		lone := string([]byte{byte(b)})
		e.send(lone + "b")
		arrives(byte(b))
		e.send(lone)
		time.Sleep(2 * time.Millisecond) // so that the byte is read alone
		e.send("a")
		arrives(byte(b))
	}
	require.Contains(t, e.text(), "typed "+strings.Repeat("ba", 10)+"|", "nothing but the keys came")
	e.requireAlive(keys + 1)
	e.send("q")
	require.Zero(t, e.awaitExit())
	e.requireRestored()
}

// A byte that waits for the rest of its letter does not keep the program busy.
func TestSystemRestsInALetter(t *testing.T) {
	for _, begun := range []string{"\xff", "\xe9", "\xc3", "\xe2\x96", "\xf0\x9f\x94"} {
		t.Run(fmt.Sprintf("%x", begun), func(t *testing.T) {
			t.Parallel()
			e := startPad(t, plain)
			e.send(begun)
			e.requireIdle(e.cmd.Process.Pid)
			e.send("\x03")
			require.Zero(t, e.awaitExit(), "Ctrl-C still ends it")
			e.requireRestored()
		})
	}
}

// A letter of two bytes that comes in two pieces is one key.
//
// Outside check (reference): the terminal emulator charmbracelet/x/vt: letters of several
// runes.
func TestSystemJoinsALetter(t *testing.T) {
	e := startPad(t, plain)
	keys := 0
	for r := 'À'; r <= 'ÿ'; r++ {
		letter := string(r)
		e.send(letter[:1])
		time.Sleep(10 * time.Millisecond) // so that the pieces are read apart
		e.send(letter[1:])
		keys++
		e.awaitText(fmt.Sprintf("keys %d.", keys))
		e.awaitText(letter + "|")
	}
	e.requireAlive(keys + 1)
}
