package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/adrg/xdg"
	"github.com/rogpeppe/go-internal/testscript"

	"dullred/cmd/internal/built"
)

func TestMain(m *testing.M) {
	home, err := os.MkdirTemp("", "home")
	if err != nil {
		panic(err)
	}
	// No test comes to the record of who runs it, whatever it forgets to say.
	for _, name := range []string{"XDG_DATA_HOME", "XDG_CONFIG_HOME"} {
		if err := os.Setenv(name, home); err != nil {
			panic(err)
		}
	}
	xdg.Reload()
	code := m.Run()
	built.Remove()
	_ = os.RemoveAll(home)
	os.Exit(code)
}

// TestScripts runs one script per topic from testdata/script. Beside the usual
// commands of a script there are:
//
//	dullred ARGS...               the program as it is delivered, in a process of its own
//	exits CODE dullred ARGS...    the exit code is that one
//	refuses CODE dullred ARGS...  so it is, one sentence is printed and the log stays as it was
//	json FILE PATH CHECK VALUE... a figure of the output (see jsonCheck)
func TestScripts(t *testing.T) {
	program := built.Program(t, "dullred/cmd/dullred")
	testscript.Run(t, testscript.Params{
		Dir:                "testdata/script",
		RequireUniqueNames: true,
		Setup: func(env *testscript.Env) error {
			freshBench(env)
			env.Setenv("PATH", filepath.Dir(program)+string(filepath.ListSeparator)+env.Getenv("PATH"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"dullred": dullred,
			"exits":   func(ts *testscript.TestScript, neg bool, args []string) { exits(ts, positive(ts, neg, args)) },
			"refuses": func(ts *testscript.TestScript, neg bool, args []string) { refuses(ts, positive(ts, neg, args)) },
			"json":    func(ts *testscript.TestScript, neg bool, args []string) { jsonCommand(ts, positive(ts, neg, args)) },
		},
	})
}

// freshBench gives a script an empty home and the characters that a script
// should not hold as they are.
func freshBench(env *testscript.Env) {
	for name, value := range map[string]string{
		"HOME":            filepath.Join(env.WorkDir, "home"),
		"XDG_DATA_HOME":   filepath.Join(env.WorkDir, "data"),
		"XDG_CONFIG_HOME": filepath.Join(env.WorkDir, "config"),
		"TZ":              "UTC",
		"LANG":            "C", // or figures and dates would be those of the machine
		"LC_ALL":          "",
		"LC_NUMERIC":      "",
		"LC_TIME":         "",
		"RECORD":          filepath.Join(env.WorkDir, "data", "dullred", "record.db"),
		"ESC":             "\x1b", // begins a terminal command
		"BEL":             "\x07",
		"RLO":             "\u202e", // turns the direction of what follows
		"LRI":             "\u2066",
		"BADUTF8":         "\xff\xfe",
		"LONG":            strings.Repeat("a", 5000),
	} {
		env.Setenv(name, value)
	}
}

// dullred runs the program, which is to succeed, or with a ! before it to fail.
func dullred(ts *testscript.TestScript, neg bool, args []string) {
	err := ts.Exec("dullred", args...)
	if _, ended := errors.AsType[*exec.ExitError](err); err != nil && !ended {
		ts.Fatalf("dullred cannot be run: %v", err)
	}
	if failed := err != nil; failed != neg {
		ts.Fatalf("dullred %s: failed %t, and is to %t", strings.Join(args, " "), failed, neg)
	}
}

// positive refuses a ! before a command that has no opposite.
func positive(ts *testscript.TestScript, neg bool, args []string) []string {
	if neg {
		ts.Fatalf("this command takes no !")
	}
	return args
}

func exits(ts *testscript.TestScript, args []string) {
	if len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	if exit, ok := errors.AsType[*exec.ExitError](err); ok {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, expected %d", got, want)
	}
}

// sentence is how a refusal reads: one line that begins with the program and
// ends with a full stop.
var sentence = regexp.MustCompile(`^dullred: [^\n]{10,600}\.\n$`)

func refuses(ts *testscript.TestScript, args []string) {
	before := logOf(ts)
	exits(ts, args)
	if out := ts.ReadFile("stdout"); out != "" {
		ts.Fatalf("a refusal printed on standard output: %q", out)
	}
	if said := ts.ReadFile("stderr"); !sentence.MatchString(said) || strings.ContainsAny(said, "\x1b\x07\u202e\u2066") {
		ts.Fatalf("not one clean sentence: %q", said)
	}
	if after := logOf(ts); after != before {
		ts.Fatalf("the log changed\nfrom %s\nto %s", before, after)
	}
}

// logOf is what dullred log --json prints of the script's record, read without
// touching the output that the script looks at next.
func logOf(ts *testscript.TestScript) string {
	path := ts.Getenv("RECORD")
	if _, err := os.Stat(path); err != nil {
		return ""
	}
	var out, errOut bytes.Buffer
	if code := run([]string{"log", "--json", "--record", path}, &out, &errOut, ts.Getenv); code != exitOK {
		ts.Fatalf("the log cannot be read: %s", errOut.String())
	}
	return out.String()
}
