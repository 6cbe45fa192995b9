package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dullred/cmd/internal/say"
	"dullred/schedule/share"
)

func (a *app) compareCommand() *cobra.Command {
	var to target
	var all bool
	cmd := &cobra.Command{
		Use:   "compare",
		Short: "compare the record of this bench with the shared one, piece by piece",
		Long: `Compares the record of this bench with the shared one, by the number of entries of
each piece and the sum of their digests, and says of each piece that differs why. It
changes neither, and may run beside dullred-share run.`,
		Args: none,
		RunE: func(cmd *cobra.Command, _ []string) error { return a.compare(cmd.Context(), to, all) },
	}
	targetFlags(cmd, &to)
	cmd.Flags().BoolVar(&all, "all", false, "name every piece and name that differs, not only the first 20")
	return cmd
}

// sideJSON is one side of a comparison. The digest is hexadecimal, because a JSON number
// does not hold it.
type sideJSON struct {
	Entries int64  `json:"entries"`
	Digest  string `json:"digest"`
}

func sideOf(s share.Sum) sideJSON { return sideJSON{s.Count, fmt.Sprintf("%016x", s.Digest)} }

// pieceJSON is a piece that differs.
type pieceJSON struct {
	Piece     string   `json:"piece"`
	Name      string   `json:"name,omitempty"`
	Here      sideJSON `json:"here"`
	There     sideJSON `json:"there"`
	ToSend    int      `json:"to_send"`
	ToCollect int      `json:"to_collect"`
	Waiting   int      `json:"waiting_for_their_bench"`
	Staying   int      `json:"not_taken"`
	Other     int      `json:"other_content"`
}

type nameJSON struct {
	Class string `json:"class"`
	Here  string `json:"here"`
	There string `json:"there"`
}

// comparedJSON is how a record and the shared one differ.
type comparedJSON struct {
	Equal  bool        `json:"equal"`
	Pieces int         `json:"pieces"`
	Here   sideJSON    `json:"here"`
	There  sideJSON    `json:"there"`
	Differ []pieceJSON `json:"differ"`
	Names  []nameJSON  `json:"names"`
}

func (a *app) compare(ctx context.Context, to target, all bool) (err error) {
	b, err := a.besideOther(to)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, b.close()) }()
	found, err := a.carrier(b, to).Compare(ctx, b.lock != nil)
	if err != nil {
		return err
	}
	j := comparedOf(found)
	most := 20
	if all {
		most = max(len(j.Differ), len(j.Names))
	}
	return a.answer(j, j.text(most))
}

func comparedOf(c share.Comparison) comparedJSON {
	j := comparedJSON{Equal: len(c.Differ) == 0, Pieces: c.Pieces, Here: sideOf(c.Here), There: sideOf(c.There),
		Differ: []pieceJSON{}, Names: []nameJSON{}}
	for _, d := range c.Differ {
		j.Differ = append(j.Differ, pieceJSON{d.Piece, say.Clean(d.Name), sideOf(d.Here), sideOf(d.There), d.ToSend, d.ToCollect, d.Waiting, d.Staying, d.Other})
	}
	for _, n := range c.Names {
		j.Names = append(j.Names, nameJSON{n.Class, say.Clean(n.Here), say.Clean(n.There)})
	}
	return j
}

func (j comparedJSON) text(most int) string {
	var l lines
	l.line("here", "%s, digest %s", entries(int(j.Here.Entries)), j.Here.Digest)
	l.line("shared", "%s, digest %s", entries(int(j.There.Entries)), j.There.Digest)
	if j.Equal {
		l.line("equal", "in %s", counted(j.Pieces, "piece", "pieces"))
	} else {
		l.line("differ", "%d of %s", len(j.Differ), counted(j.Pieces, "piece", "pieces"))
	}
	for _, d := range j.Differ[:min(most, len(j.Differ))] {
		l.line("", "%s: %s", d.called(), d.why())
	}
	for _, n := range j.Names[:min(most, len(j.Names))] {
		l.line("name", "the %s %q is %q in the shared record; both stay", n.Class, n.Here, n.There)
	}
	if left := max(len(j.Differ)-most, 0) + max(len(j.Names)-most, 0); left > 0 {
		l.line("more", "%d are not named here: --all", left)
	}
	return l.String()
}

// called is a piece by its name, else by its id.
func (d pieceJSON) called() string {
	if d.Name != "" {
		return d.Name
	}
	return d.Piece
}

// why says of what kind the entries are by which a piece differs.
func (d pieceJSON) why() string {
	var parts []string
	for _, p := range []struct {
		n     int
		words string
	}{
		{d.ToSend, "only here, to be sent"},
		{d.ToCollect, "only there, to come in"},
		{d.Waiting, "only here and of another bench, whose own dullred-share must send them"},
		{d.Staying, "only here, and the shared record does not take them"},
		{d.Other, "with other content there: one of the two was changed by hand"},
	} {
		if p.n > 0 {
			parts = append(parts, entries(p.n)+" "+p.words)
		}
	}
	if len(parts) == 0 {
		return "it was written to just now"
	}
	return strings.Join(parts, "; ")
}
