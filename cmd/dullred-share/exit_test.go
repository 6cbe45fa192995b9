package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/say"
)

// The codes of the help are those of the table; TestTypedWrong and TestSystemWhatGoesWrong provoke them.
func TestExitCodes(t *testing.T) {
	require.Contains(t, strings.Join(strings.Fields(rootHelp), " "), "Exit codes: "+say.ExitSentence("dullred-share"))
	var codes []int
	for _, e := range say.ExitsOf("dullred-share") {
		codes = append(codes, e.Code)
	}
	require.Equal(t, []int{exitOK, exitFailed, exitRefused, exitRecord, exitShared}, codes)
}
