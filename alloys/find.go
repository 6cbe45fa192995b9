package alloys

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// UnknownError says that no alloy or no solder has a name.
type UnknownError struct {
	What    string   // "alloy" or "solder"
	Name    string   // as it was asked for
	Nearest []string // up to three names like it, of different metals, nearest first
}

// Error quotes the name and offers the nearest ones.
func (e *UnknownError) Error() string {
	if len(e.Nearest) == 0 {
		return fmt.Sprintf("no %s is called %.60q", e.What, e.Name)
	}
	return fmt.Sprintf("no %s is called %.60q; the nearest names are %s", e.What, e.Name, strings.Join(e.Nearest, ", "))
}

// plain is a name as it is compared: in lower case, without blanks, dashes and
// underscores.
func plain(name string) string {
	return strings.ToLower(strings.Map(func(r rune) rune {
		if strings.ContainsRune(" \t\u00a0-\u2010\u2011\u2013_", r) {
			return -1
		}
		return r
	}, name))
}

// register holds the metals of one table by their plain names.
type register map[string]entry

type entry struct {
	id    ID
	index int // in the table
}

// enter puts a metal in under every name that it is called.
func (g register) enter(r *row, e entry, called []string) {
	for _, name := range called {
		key := plain(name)
		if other, known := g[key]; known && other.id != e.id {
			r.failWhole("%.60q is a name of %s too", name, other.id)
			return
		}
		g[key] = e
	}
}

// with is both registers, the metals of the second moved behind those of the first.
func (g register) with(own register, behind int) register {
	return joined(g, own, func(e entry) entry { return entry{e.id, e.index + behind} })
}

// called lists all that an alloy answers to.
func (a Alloy) called() []string {
	names := append([]string{a.Name, string(a.ID), a.UNS}, a.Names...)
	return slices.DeleteFunc(names, func(s string) bool { return plain(s) == "" })
}

// Find looks an alloy up by its id, its UNS number, its fineness or a trade
// name, in any case, blanks, dashes and underscores left out: "sterling",
// "925", "fine-silver", "c26000". If there is none the error is an
// *UnknownError.
func (b *Book) Find(name string) (Alloy, error) {
	if e, ok := b.names[plain(name)]; ok {
		return b.alloys[e.index], nil
	}
	return Alloy{}, &UnknownError{What: "alloy", Name: name, Nearest: nearest(name, b.alloys)}
}

// longest is the longest name, in characters, that is compared letter by letter.
const longest = 40

// nearest returns the name most like the one that was typed, and those of up to
// two more metals if no more than about a third of the letters differ.
func nearest[M interface{ called() []string }](name string, metals []M) []string {
	want := []rune(plain(name))
	if len(want) == 0 || len(want) > longest {
		return nil
	}
	type near struct {
		name string
		far  int
	}
	var all []near
	for _, m := range metals {
		best := near{far: 2 * longest}
		for _, n := range m.called() {
			if d := unlike(want, []rune(plain(n))); d < best.far {
				best = near{n, d}
			}
		}
		all = append(all, best)
	}
	slices.SortStableFunc(all, func(p, q near) int { return cmp.Compare(p.far, q.far) })
	var names []string
	for i, n := range all[:min(3, len(all))] {
		if i == 0 || n.far <= 1+len(want)/3 {
			names = append(names, n.name)
		}
	}
	return names
}

// unlike says how far two names are apart: 1 if one holds the other, else the
// number of letters to put in, take out or change.
func unlike(a, b []rune) int {
	if strings.Contains(string(a), string(b)) || strings.Contains(string(b), string(a)) {
		return 1
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range b {
			change := diagonal
			if x != y {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
