package published

import (
	"fmt"
	"strings"
	"testing"
)

// recomputed is what was reckoned apart from our code by ourselves: it checks the code and
// not the law.
const recomputed = "recomputed"

// kindsOfSource tell what a row of examples is held against, by how its source begins.
var kindsOfSource = []struct{ kind, beginnings string }{
	{recomputed, "own recomputation|0.127*92"},
	{"standard", "ASTM|NIST|CIE|CODATA|IEC|ITS-90"},
	{"common practice", "common practice|trade pages"},
	{"reference", "open |same|Hill 1955 as given in an open"},
	{"worked example", "Dieter|Askeland|Callister|Kalpakjian|Groover|Incropera|Holman|Sachdeva|Dwivedi|university homework"},
	{"handbook", "Tomlinson|strip supplier|UK copper|US copper|Johnson|Tabor|Cahoon|Fischer|Ridgeway|Duncan|Kershaw|Textures|Vandermeer|Decker|" +
		"Salhi|Dutta|Konkova|encyclopaedia|chemistry reference|Robertson|Draper|Schubert"},
}

// Kind is what the row is held against: a name of Kinds, or "recomputed"; empty where its
// source is of no kind that is known.
func (r Row) Kind() string {
	for _, k := range kindsOfSource {
		for beginning := range strings.SplitSeq(k.beginnings, "|") {
			if strings.HasPrefix(r.Source, beginning) {
				return k.kind
			}
		}
	}
	return ""
}

// KindsOfRows counts the rows of the tables of examples by what they are held against.
func KindsOfRows(t *testing.T) string {
	t.Helper()
	tables := []string{"worked_examples.csv", "heat_examples.csv"}
	var b strings.Builder
	b.WriteString("\n| rows held against | " + strings.Join(tables, " | ") + " |\n|---|---|---|\n")
	for _, k := range kindsOfSource {
		fmt.Fprintf(&b, "| %s |", k.kind)
		for _, table := range tables {
			n := 0
			for _, row := range Rows(t, table) {
				if row.Kind() == k.kind {
					n++
				}
			}
			fmt.Fprintf(&b, " %d |", n)
		}
		b.WriteString("\n")
	}
	return b.String()
}
