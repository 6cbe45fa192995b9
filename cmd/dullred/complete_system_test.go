//go:build system

package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// A shell that sources the completion completes the name of a piece.
//
// Outside check (reference): bash: a piece's name is completed by the completion it sourced.
func TestSystemBashCompletesAPiece(t *testing.T) {
	require.Equal(t, "spoon\nspoon\n\n", inShell(t, "bash", `
source <(dullred completion bash) || exit 1
words() {
	COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_LINE="$*"; COMP_POINT=${#COMP_LINE}; COMPREPLY=()
	__start_dullred
	echo "${COMPREPLY[*]}"
}
compopt() { :; } # there is no line to be completed, only the words of one
# What bash-completion gives where it is installed.
_get_comp_words_by_ref() { cur=${COMP_WORDS[COMP_CWORD]}; prev=${COMP_WORDS[COMP_CWORD-1]}; words=("${COMP_WORDS[@]}"); cword=$COMP_CWORD; }
words dullred advise sp
words dullred heat begin s
words dullred advise x
`))
}

// Outside check (reference): fish: what is offered for the end of a line.
func TestSystemFishCompletes(t *testing.T) {
	require.Equal(t, strings.Join([]string{
		"> dullred advise sp", "spoon",
		"> dullred heat begin b", "big bowl",
		"> dullred advise a", "a:b",
		"> dullred advise x",
		"> dullred piece new ",
		"> dullred worked --alloy sterl", "sterling silver",
		"> dullred sheet spoon --format=h", "--format=html",
		"> dullred weig", "weigh\tlog what a piece weighs, or the scrap that was kept of it",
		"",
	}, "\n"), inShell(t, "fish", `
dullred completion fish | source; or exit 1
for line in 'dullred advise sp' 'dullred heat begin b' 'dullred advise a' 'dullred advise x' 'dullred piece new ' \
		'dullred worked --alloy sterl' 'dullred sheet spoon --format=h' 'dullred weig'
	echo "> $line"
	complete -C $line
end
`))
}

// A zsh in a terminal of its own is typed at; after the tabulator its line is written down.
//
// Outside check (reference): zsh: the line after the key that completes it.
func TestSystemZshCompletes(t *testing.T) {
	require.Equal(t, strings.Join([]string{
		"dullred advise spoon ",
		`dullred heat begin big\ bowl `,
		"dullred advise a:b ",
		"dullred advise x",
		"dullred piece new ",
		`dullred worked --alloy sterling\ silver `,
		"dullred sheet spoon --format=html ",
		"dullred weigh ",
		"",
	}, "\n"), inShell(t, "zsh", `
zmodload zsh/zpty
zpty typed zsh -f -i
zpty -w typed 'autoload -Uz compinit; compinit -u -D; source <(dullred completion zsh)'
zpty -w typed 'tell() { print -r -- "$BUFFER" >>$HOME/lines; zle kill-whole-line }; zle -N tell; bindkey "^G" tell; print rea""dy'
zpty -r typed said '*ready*'
for line in 'dullred advise sp' 'dullred heat begin b' 'dullred advise a' 'dullred advise x' 'dullred piece new ' \
		'dullred worked --alloy sterl' 'dullred sheet spoon --format=h' 'dullred weig'; do
	zpty -w -n typed "$line"$'\t\a'
done
zpty -w typed exit
while zpty -r typed said; do :; done
cat $HOME/lines
`))
}

// inShell is what a script of a shell prints, in a home with a few pieces in it.
func inShell(t *testing.T, shell, script string) string {
	t.Helper()
	t.Parallel()
	program, home := built.Program(t, "dullred/cmd/dullred"), t.TempDir()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	run := func(name string, args ...string) string {
		cmd := exec.CommandContext(ctx, name, args...)
		cmd.Env = []string{"HOME=" + home, "XDG_DATA_HOME=" + home, "XDG_CONFIG_HOME=" + home, "TERM=xterm",
			"PATH=" + filepath.Dir(program) + ":" + os.Getenv("PATH"), "LC_ALL=C"}
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		return string(out)
	}
	for _, name := range []string{"spoon", "big bowl", "a:b"} {
		run(program, "piece", "new", name, "--alloy", "sterling", "--size", "8x8")
	}
	return run(shell, "-c", script)
}
