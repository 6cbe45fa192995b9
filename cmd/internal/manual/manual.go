// Package manual writes the pages of the manual from a tree of commands: one page in
// roff for each, so that man shows the same words as --help.
//
//	for _, page := range manual.Pages(root, about) { write(page.Name, page.Roff) }
//
// A page is ASCII: whatever else a text holds stands in it as \[uXXXX], so that neither
// the locale nor a filter before groff matters. It bears no date, and is the same
// bytes whenever it is written.
package manual

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// About is what every page of a program says in the same words.
type About struct {
	Files [][2]string // path, what it is
	Exits [][2]string // code, what it means
}

// Page is one page of section 1.
type Page struct {
	Name string // of its file
	Roff string
}

// Pages are those of a command and of all under it that can be seen.
func Pages(cmd *cobra.Command, about About) []Page {
	cmd.InitDefaultHelpFlag()
	all := []Page{{Name: dashed(cmd) + ".1", Roff: page(cmd, about)}}
	for _, sub := range seen(cmd) {
		all = append(all, Pages(sub, about)...)
	}
	return all
}

// Write puts the pages into a folder, which it makes, and says how many.
func Write(folder string, pages []Page) (int, error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return 0, err
	}
	for _, p := range pages {
		if err := os.WriteFile(filepath.Join(folder, p.Name), []byte(p.Roff), 0o644); err != nil {
			return 0, err
		}
	}
	return len(pages), nil
}

// seen are the commands under one that are told of.
func seen(cmd *cobra.Command) (all []*cobra.Command) {
	for _, sub := range cmd.Commands() {
		if !sub.Hidden {
			all = append(all, sub)
		}
	}
	return all
}

func dashed(cmd *cobra.Command) string { return strings.ReplaceAll(cmd.CommandPath(), " ", "-") }

func page(cmd *cobra.Command, about About) string {
	var b strings.Builder
	program := cmd.Root().Name()
	fmt.Fprintf(&b, ".TH %s 1 \"\" %s %s\n", quoted(strings.ToUpper(dashed(cmd))), quoted(program), quoted("Manual of "+program))
	b.WriteString(".nh\n.ad l\n.SH NAME\n" + Escape(dashed(cmd)) + ` \- ` + Escape(cmd.Short) + "\n")
	b.WriteString(".SH SYNOPSIS\n.B " + quoted(cmd.UseLine()) + "\n")
	b.WriteString(".SH DESCRIPTION\n" + body(description(cmd)))
	options(&b, "OPTIONS", cmd.NonInheritedFlags())
	options(&b, "OPTIONS OF EVERY COMMAND", cmd.InheritedFlags())
	if cmd.Example != "" {
		b.WriteString(".SH EXAMPLES\n" + asItStands(strings.Split(strings.Trim(cmd.Example, "\n"), "\n")))
	}
	pairs(&b, "FILES", about.Files)
	pairs(&b, "EXIT STATUS", about.Exits)
	b.WriteString(".SH SEE ALSO\n" + also(cmd))
	return b.String()
}

func description(cmd *cobra.Command) string {
	if cmd.Long != "" {
		return cmd.Long
	}
	return strings.ToUpper(cmd.Short[:1]) + cmd.Short[1:] + "."
}

func options(b *strings.Builder, head string, flags *pflag.FlagSet) {
	if !flags.HasAvailableFlags() {
		return
	}
	b.WriteString(".SH " + head + "\n")
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		value, usage := pflag.UnquoteUsage(f)
		name := "--" + f.Name
		if f.Shorthand != "" {
			name = "-" + f.Shorthand + ", " + name
		}
		b.WriteString(".TP\n.B " + quoted(strings.TrimSpace(name+" "+value)) + "\n" + line(usage) + "\n")
	})
}

func pairs(b *strings.Builder, head string, rows [][2]string) {
	if len(rows) == 0 {
		return
	}
	b.WriteString(".SH " + quoted(head) + "\n")
	for _, r := range rows {
		b.WriteString(".TP\n.B " + quoted(r[0]) + "\n" + line(r[1]) + "\n")
	}
}

// also names the command above, and those beneath.
func also(cmd *cobra.Command) string {
	var names []string
	if cmd.HasParent() {
		names = append(names, dashed(cmd.Parent()))
	}
	for _, sub := range seen(cmd) {
		names = append(names, dashed(sub))
	}
	for i, n := range names {
		names[i] = `\fB` + Escape(n) + `\fR(1)`
	}
	if names == nil {
		return `\fB` + Escape(cmd.Root().Name()) + "\\fR \\-\\-help\n"
	}
	return strings.Join(names, ",\n") + "\n"
}
