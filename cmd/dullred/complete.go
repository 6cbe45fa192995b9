package main

import (
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dullred/alloys"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
)

// complete tells a shell what may stand where: names of pieces, metals, formats and the
// like. It is asked at every press of a key, so it reads the record and writes nothing,
// and where something fails it offers nothing and says nothing.
func (a *app) complete(cmd *cobra.Command) {
	cmd.ValidArgsFunction = a.arguments(cmd)
	for flag, words := range map[string]func() []string{
		"alloy":   a.alloyNames,
		"format":  func() []string { return formatsOf(cmd.Name()) },
		"process": processNames,
		"kind":    kindNames,
		"plan":    a.pieceNames,
		"piece":   a.pieceNames,
	} {
		if f := cmd.Flags().Lookup(flag); f != nil && f.Value.Type() == "string" {
			_ = cmd.RegisterFlagCompletionFunc(flag, offer(words)) // fails only where it was done before
		}
	}
	for _, sub := range cmd.Commands() {
		a.complete(sub)
	}
}

// arguments completes what stands behind a command, by its line of use: a file where one
// is meant, a name as often as it may stand there, and else nothing.
func (a *app) arguments(cmd *cobra.Command) cobra.CompletionFunc {
	_, use, _ := strings.Cut(cmd.Use, " ")
	first, _, _ := strings.Cut(use, " ")
	var words func() []string
	switch word := strings.Trim(first, "[]."); {
	case word == "FILE", word == "OTHER.db", strings.HasPrefix(word, "DEVICE"), word == "COMMAND":
		return cmd.ValidArgsFunction
	case word == "NAME" && cmd.Name() == "alloys", word == "ALLOY":
		words = a.alloyNames
	case word == "NAME" && cmd.Name() != "new":
		words = a.pieceNames
	}
	many, offered := strings.Contains(first, "..."), offer(words)
	return func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		switch {
		case len(args) == 0 || many:
			all, directive := offered(cmd, args, begun)
			return slices.DeleteFunc(all, func(w string) bool { return slices.Contains(args, w) }), directive
		case cmd.Name() == "photo":
			return nil, cobra.ShellCompDirectiveDefault // a photo may be a file
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}

// offer completes a word from a list, if there is one, and never with the names of files.
func offer(words func() []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
		if words == nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		var out []string
		for _, w := range words() {
			if strings.HasPrefix(strings.ToLower(w), strings.ToLower(begun)) && !strings.ContainsAny(w, "\t\n\r") {
				out = append(out, w)
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
}

// pieceNames are the names in the record.
func (a *app) pieceNames() []string {
	path, err := a.path()
	if err != nil {
		return nil
	}
	r, err := record.Read(path)
	if err != nil {
		return nil
	}
	labels, err := r.Labels(record.PieceClass)
	if r.Close() != nil || err != nil {
		return nil
	}
	var names []string
	for _, l := range labels {
		names = append(names, l.Text)
	}
	return names
}

func (a *app) alloyNames() (names []string) {
	for _, x := range alloys.All() {
		names = append(names, string(x.ID), x.Name)
	}
	return names
}

func processNames() (names []string) {
	for _, p := range coldwork.Processes() {
		names = append(names, string(p))
	}
	return names
}

func kindNames() (names []string) {
	for _, k := range everyKind {
		names = append(names, string(k))
	}
	return names
}

func formatsOf(command string) []string {
	switch command {
	case "sheet":
		return slices.Sorted(maps.Keys(sheetFormats))
	case "card":
		return []string{"html", "pdf", "text"}
	case "picture":
		return []string{"png", "svg", "text"}
	}
	return nil
}
