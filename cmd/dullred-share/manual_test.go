package main

import (
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/manual"
)

// Every command that can be seen has its page, with all its flags and the exit codes.
func TestManualHoldsEveryCommandAndFlag(t *testing.T) {
	root := new(app).root()
	pages := map[string]string{}
	for _, p := range manual.Pages(root, aboutManual()) {
		pages[p.Name] = p.Roff
	}
	for _, c := range root.Commands() {
		page := pages["dullred-share-"+c.Name()+".1"]
		require.Contains(t, page, manual.Escape(c.Short), c.Name())
		require.Contains(t, page, "the shared record cannot be reached", c.Name())
		flags := func(f *pflag.Flag) { require.Contains(t, page, manual.Escape("--"+f.Name), c.Name()) }
		c.InheritedFlags().VisitAll(flags)
		c.NonInheritedFlags().VisitAll(flags)
	}
	require.Greater(t, len(pages), 11)
}
