//go:build system && linux

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/internal/built"
)

// sentence is what a command says that has failed: what was wrong, what was kept, what
// to do.
const sentence = `^dullred-share: [^\n;]+(; [^\n;]+){2,3}\.\n$`

// patience is how long is waited for what must come: a carrier that was refused rests for
// 30 s before it tries again.
const patience = 90 * time.Second

// TestSystemWhatGoesWrong lets everything go wrong that a bench may meet on its way to
// the shared record. Each is said in one sentence, the record of the bench is untouched
// and takes entries, and when it is mended all of them arrive by themselves. First all
// goes wrong and then all is mended, since a carrier that was refused rests for half a
// minute.
func TestSystemWhatGoesWrong(t *testing.T) {
	t.Parallel()
	program := built.Program(t, "dullred/cmd/dullred-share")
	common := preparedServer(t, pgtest.Common(t))
	var all []*trouble
	for _, m := range mishaps {
		t.Run(m.name, func(sub *testing.T) {
			require.NotEmpty(sub, m.reason)
			x := newTrouble(t, m, program, common)
			x.t = sub
			x.goesWrong()
			all = append(all, x)
		})
	}
	for _, x := range all {
		x.t = t
		if x.mend != nil {
			x.mend()
		}
	}
	for _, x := range all {
		t.Run("mended, "+x.name, func(sub *testing.T) {
			x.t = sub
			x.isWell()
		})
	}
}

// preparedServer is a server with a database that is ready.
func preparedServer(t *testing.T, s *pgtest.Server) site {
	database := s.Database(t)
	code, _, errOut := did(t, nil, "prepare", "--to", s.URL(pgtest.Owner, database), "--password-file", s.PasswordFile)
	require.Equal(t, exitOK, code, errOut)
	return site{s, database}
}

// site is a database that is ready to be shared.
type site struct {
	*pgtest.Server
	database string
}

// trouble is a mishap that has happened.
type trouble struct {
	mishap
	*scene
	carrier *running // nil where it has ended by itself
}

func newTrouble(t *testing.T, m mishap, program string, at site) *trouble {
	switch {
	case m.own:
		at = preparedServer(t, pgtest.Start(t, m.settings...))
	case m.alone:
		at = preparedServer(t, at.Server)
	}
	f := newFar(t, at.Server, at.database, 3)
	return &trouble{mishap: m, scene: &scene{far: f, t: t, all: t, printed: &lockedBuffer{}, s: at.Server, program: program, url: f.address(),
		usual: filepath.Join(t.TempDir(), "pgpass"), expected: 3}}
}

// goesWrong has it happen, and tries every command.
func (x *trouble) goesWrong() {
	x.mend = x.happens(x.scene)
	before := x.rows()
	for _, command := range []string{"send", "collect", "compare"} {
		x.tries(command, x.command(command))
		require.Equal(x.t, before, x.rows(), "the record is as it was")
	}
	x.owner()
	x.onBoard()
	x.beside()
}

// tries runs a command, which fails as it should.
func (x *trouble) tries(command string, cmd *exec.Cmd) {
	code, out, errOut := x.finished(cmd)
	if strings.Contains(x.fine, command) || code == exitOK && strings.Contains(x.either, command) {
		require.Equal(x.t, exitOK, code, errOut)
		return
	}
	require.Equal(x.t, x.code, code, "%s: %s", command, out+errOut)
	require.Regexp(x.t, x.words, errOut, command)
	require.Regexp(x.t, sentence, errOut, command)
	require.NotContains(x.t, errOut, "SQLSTATE", "a smith knows no such thing")
	if command == "send" || command == "prepare" {
		x.t.Logf("%s: %s", command, strings.TrimSpace(errOut))
	}
}

// owner tries to make the database ready.
func (x *trouble) owner() {
	cmd := x.command("prepare")
	switch x.prepare {
	case "":
		return
	case "owner":
		for i, arg := range cmd.Args {
			cmd.Args[i] = strings.Replace(arg, x.role+"@", pgtest.Owner+"@", 1)
			if arg == x.password {
				cmd.Args[i] = x.s.PasswordFile
			}
		}
	}
	x.tries("prepare", cmd)
}

// onBoard looks at the board.
func (x *trouble) onBoard() {
	if x.code == exitRefused {
		x.tries("board", x.command("board"))
		return
	}
	board := x.runs("board")
	switch {
	case strings.Contains(x.fine, "board"):
		x.says(board, "STATE", patience)
		require.NotRegexp(x.t, x.words+"|nothing was read yet", board.words())
	case strings.Contains(x.either, "board"):
		x.says(board, "STATE|"+x.words, patience)
	default:
		x.says(board, x.words, patience)
	}
	require.Equal(x.t, exitOK, x.ends(board, syscall.SIGTERM))
}

// beside starts to carry, and logs an entry meanwhile.
func (x *trouble) beside() {
	if x.code == exitRefused {
		x.tries("run", x.command("run"))
		x.logs("meanwhile")
		return
	}
	x.carrier = x.runs("run")
	x.says(x.carrier, x.words, patience)
	x.logs("meanwhile")
	require.Contains(x.t, x.carrier.words(), "nothing is lost")
	_, state, _ := x.finished(exec.Command(x.program, "state", "--record", x.record))
	if x.fine+x.either == "" {
		require.Regexp(x.t, `(?m)^alone     since \d\d:\d\d: .*`, state)
		require.Regexp(x.t, x.words, state)
	}
}

// isWell is after the cause was mended.
func (x *trouble) isWell() {
	if x.carrier == nil || x.mend == nil {
		if x.carrier != nil {
			require.Equal(x.t, exitOK, x.ends(x.carrier, os.Interrupt))
		}
		x.url = x.address()
		x.carrier = x.runs("run")
	}
	require.Eventually(x.t, func() bool { return x.arrived() == x.expected }, patience, time.Second, "it said: %v", &x.carrier.out)
	x.says(x.carrier, "entries at", patience)
	require.Len(x.t, x.rows(), x.expected)
	require.Equal(x.t, exitOK, x.ends(x.carrier, os.Interrupt))
	require.Regexp(x.t, `\nended at \d\d:\d\d; nothing of this bench waits\n$`, x.carrier.out.String())
	x.t.Logf("run: %s", strings.Join(strings.Split(strings.TrimSpace(x.carrier.out.String()), "\n"), "\n     "))
	for _, text := range []string{x.printed.String(), x.s.Log()} {
		for _, secret := range []string{rolePassword, wrongPassword} {
			require.NotContains(x.t, text, secret)
		}
	}
}
