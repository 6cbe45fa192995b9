package main

import (
	"slices"

	"github.com/spf13/cobra"
)

// maker makes the command of a name.
type maker struct {
	name string
	make func() *cobra.Command
}

// makers are all commands. Each is made only when it is asked for: a command with its
// flags and help is memory that most runs never look at.
func (a *app) makers() []maker {
	return []maker{
		{"bench", a.benchCommand},
		{"piece", a.pieceCommand},
		{"pass", a.passCommand},
		{"measure", a.measureCommand},
		{"filed", a.filedCommand},
		{"dressed", a.dressedCommand},
		{"heat", a.heatCommand},
		{"quench", a.quenchCommand},
		{"cool", a.coolCommand},
		{"pickle", a.pickleCommand},
		{"proved", a.provedCommand},
		{"sign", a.signCommand},
		{"torch", a.torchCommand},
		{"bath", a.bathCommand},
		{"flux", a.fluxCommand},
		{"joint", a.jointCommand},
		{"light", a.lightCommand},
		{"noise", a.noiseCommand},
		{"crack", a.crackCommand},
		{"weigh", a.weighCommand},
		{"photo", a.photoCommand},
		{"note", a.noteCommand},
		{"void", a.voidCommand},
		{"ack", a.ackCommand},
		{"advise", a.adviseCommand},
		{"watch", a.watchCommand},
		{"hand", a.handCommand},
		{"limit", a.limitCommand},
		{"drill", a.drillCommand},
		{"class", a.classCommand},
		{"trial", a.trialCommand},
		{"worked", a.workedCommand},
		{"glow", a.glowCommand},
		{"soften", a.softenCommand},
		{"stock", a.stockCommand},
		{"plan", a.planCommand},
		{"batch", a.batchCommand},
		{"mix", a.mixCommand},
		{"alloys", a.alloysCommand},
		{"safety", a.safetyCommand},
		{"probe", a.probeCommand},
		{"log", a.logCommand},
		{"totals", a.totalsCommand},
		{"sheet", a.sheetCommand},
		{"picture", a.pictureCommand},
		{"card", a.cardCommand},
		{"export", a.exportCommand},
		{"import", a.importCommand},
		{"merge", a.mergeCommand},
		{"forget", a.forgetCommand},
		{"record", a.recordCommand},
		{"config", a.configCommand},
		{"manual", a.manualCommand},
	}
}

// root is the program with all its commands, for who lists, completes or mistypes them.
func (a *app) root() *cobra.Command {
	root := a.bare()
	for _, m := range a.makers() {
		root.AddCommand(m.make())
	}
	a.complete(root)
	return root
}

// rootFor is the program with as many commands as it needs to run what was typed: those
// whose names are among the words, if one of them is what is asked for. A word that is
// no command, help and completions need all of them, the bench alone none.
func (a *app) rootFor(args []string) *cobra.Command {
	root := a.bare()
	root.CompletionOptions.DisableDefaultCmd = true
	for _, m := range a.makers() {
		if slices.Contains(args, m.name) {
			root.AddCommand(m.make())
		}
	}
	found, _, err := root.Find(args)
	if len(args) == 0 || err == nil && found != root {
		return root
	}
	return a.root()
}
