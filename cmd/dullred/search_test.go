package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/cmd/internal/years"
	"dullred/schedule"
	"dullred/schedule/record"
)

// Every constant of schedule that is a kind can be looked for, and none twice.
func TestEveryKindCanBeLookedFor(t *testing.T) {
	files, err := filepath.Glob("../../schedule/*.go")
	require.NoError(t, err)
	var kinds []string
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			if spec, ok := n.(*ast.ValueSpec); ok && isKind(spec) {
				text, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
				require.NoError(t, err)
				kinds = append(kinds, text)
			}
			return true
		})
	}
	require.Contains(t, kinds, "weighed", "the constants are not found")
	var known []string
	for _, k := range everyKind {
		known = append(known, string(k))
	}
	for _, k := range schedule.Reserved() {
		kinds = append(kinds, string(k))
	}
	require.ElementsMatch(t, kinds, known)
}

func isKind(spec *ast.ValueSpec) bool {
	of, ok := spec.Type.(*ast.Ident)
	return ok && of.Name == "Kind" && len(spec.Values) == 1
}

func TestKindsNamed(t *testing.T) {
	cases := []struct {
		typed  string
		kinds  []string
		reason string
	}{
		{"", nil, "none is asked for"},
		{"pass", []string{"pass"}, "by its name"},
		{"Heat  BEGUN", []string{"heat begun"}, "however it was typed"},
		{"plan", []string{"plan"}, "a whole name is that one"},
		{"heat", []string{"heat begun", "heat reached", "heat out"}, "all that begin so"},
		{"crack o", []string{"crack overridden"}, "as far as it takes"},
	}
	for _, c := range cases {
		t.Run(c.typed, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			kinds, err := kindsNamed(c.typed)
			require.NoError(t, err)
			require.Equal(t, c.kinds, kinds, c.reason)
		})
	}
	for _, wrong := range []string{" ", "hammered", "passes", "%"} {
		_, err := kindsNamed(wrong)
		require.ErrorContains(t, err, "is not a kind of entry", wrong)
	}
}

func TestPeriods(t *testing.T) {
	place := time.FixedZone("east", 3600)
	cases := []struct {
		typed        string
		begins, ends string
		reason       string
	}{
		{"2024-02-28", "2024-02-28", "2024-02-29", "a day"},
		{"2024-02", "2024-02-01", "2024-03-01", "a month, however long"},
		{"2024-12", "2024-12-01", "2025-01-01", "over the new year"},
		{"2024", "2024-01-01", "2025-01-01", "a year"},
	}
	for _, c := range cases {
		t.Run(c.typed, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			p, err := periodNamed(c.typed, place)
			require.NoError(t, err)
			require.Equal(t, c.begins+" 00:00 east", p.begins.Format("2006-01-02 15:04 MST"), c.reason)
			require.Equal(t, c.ends+" 00:00 east", p.ends.Format("2006-01-02 15:04 MST"), c.reason)
		})
	}
	for _, wrong := range []string{"", "24", "0024", "2024-2", "2024-02-30", "2024-00", "02-2024", "yesterday", "2024-02-01 10:00", strings.Repeat("2", 5000)} {
		_, err := periodNamed(wrong, place)
		require.ErrorContains(t, err, "is not a day, month or year", wrong)
	}
}

func TestFoldText(t *testing.T) {
	same := [][]string{
		{"Émail", "EMAIL", "e\u0301mail", "ÉMAIL"}, {"Ångström", "angstrom"}, {"K", "\u212a", "k"}, {"ΣΑΣ", "σας"}, {"100 %_*\"'", "100 %_*\"'"},
	}
	for _, texts := range same {
		for _, text := range texts {
			require.Equal(t, foldText(texts[0]), foldText(text), text)
		}
	}
	require.NotEqual(t, foldText("ø"), foldText("o"), "a letter of its own, and no accent")
}

// A text is found in a body exactly where it stands in a field for words, as plain text.
func TestWordingAgainstTheBodiesThemselves(t *testing.T) {
	words := rapid.StringOfN(rapid.RuneFrom([]rune("aAbé\u0301%_*\"\\<& k\u212aß0\u2028😀")), 1, 8, -1)
	rapid.Check(t, func(rt *rapid.T) {
		text, note, other := words.Draw(rt, "text"), words.Draw(rt, "note"), words.Draw(rt, "other")
		folded := foldText(text)
		w := wording{folded, partOf(folded)}
		bodies := map[schedule.Body]bool{
			schedule.Note{Text: note}:                           strings.Contains(foldText(note), folded),
			schedule.Jointed{Joint: note, Solder: other}:        strings.Contains(foldText(note), folded) || strings.Contains(foldText(other), folded),
			schedule.Pass{Tool: note}:                           strings.Contains(foldText(note), folded),
			schedule.Loosened{Alloy: note, Stock: other}:        strings.Contains(foldText(other), folded),
			schedule.Raised{Cause: other, What: note}:           strings.Contains(foldText(note), folded),
			schedule.Void{Target: schedule.ID(note)}:            false,
			schedule.Begun{Torch: note, Brick: true}:            strings.Contains(foldText(note), folded),
			schedule.Acknowledged{Alert: schedule.ID(note)}:     false,
			schedule.Weighed{Mass: 7, What: schedule.PartScrap}: false,
		}
		for body, want := range bodies {
			row, err := schedule.Encode(schedule.Entry{Body: body})
			require.NoError(rt, err)
			if row.Body == "" {
				continue
			}
			require.Equal(rt, want, w.in(row.Kind, row.Body), "%s in %s", text, row.Body)
			if want && isASCII(row.Body) && !strings.Contains(row.Body, `\u`) {
				require.Contains(rt, strings.ToLower(row.Body), strings.ToLower(w.part), "the record would not ask")
			}
		}
	})
}

func TestWordingOfWhatIsToCome(t *testing.T) {
	w := wording{"BENT", "BENT"}
	require.True(t, w.in("a kind to come", `{"of":[{"how":"bent over"}]}`), "its texts are not known, and all are looked at")
	require.False(t, wording{"00", "00"}.in("a kind to come", `{"of":"00000000-0000-7000-8000-000000000001"}`), "but no id")
	require.False(t, w.in("note", `{"text":"bent`), "damaged")
}

// Whatever is a text in a body of this version was thought of: it is looked at or not.
func TestEveryTextIsThoughtOf(t *testing.T) {
	notWords := map[schedule.Kind][]string{
		schedule.KindStarted: {"alloy"}, schedule.KindRaised: {"cause"}, schedule.KindLoosened: {"alloy", "condition"},
	}
	for _, body := range []schedule.Body{schedule.Started{}, schedule.Pass{}, schedule.Measured{}, schedule.Begun{}, schedule.Reached{}, schedule.Out{},
		schedule.Quenched{}, schedule.FoundCool{}, schedule.Pickled{}, schedule.Rinsed{}, schedule.Soft{}, schedule.Springy{}, schedule.Signalled{},
		schedule.Fluxed{}, schedule.Jointed{}, schedule.Filed{}, schedule.Dressed{}, schedule.CrackSeen{}, schedule.CrackFiled{}, schedule.CrackIgnored{},
		schedule.Photo{}, schedule.Finished{}, schedule.Note{}, schedule.Raised{}, schedule.Loosened{}, schedule.Drilled{}, schedule.TorchLit{}, schedule.TorchOut{}, schedule.Noise{}} {
		kind, of := body.Kind(), reflect.TypeOf(body)
		for i := range of.NumField() {
			key, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ",")
			kept := of.Field(i).Type
			text := kept.Kind() == reflect.String || kept == reflect.TypeFor[[]string]()
			if !text || key == "-" {
				continue
			}
			require.Contains(t, slices.Concat(spoken[kind], notWords[kind]), key, "%s of %s", key, kind)
		}
	}
}

// With very many keys or none, a limit or none, what is printed is one array.
func TestFoundIsOneArray(t *testing.T) {
	path := grown(t, years.SchoolOf(400))
	all, errOut, code := atClass(t, path, "log", "--json")
	require.Zero(t, code, errOut)
	found, errOut, code := atClass(t, path, "log", "--json", "--from", "2000")
	require.Zero(t, code, errOut)
	require.Equal(t, all, found)
	found, errOut, code = atClass(t, path, "log", "--json", "--limit", "1000000")
	require.Zero(t, code, errOut)
	require.Equal(t, all, found)
}

func TestNearestLabels(t *testing.T) {
	var labels []record.Label
	for _, text := range []string{"AB", "Kwame", "CD", "KW", "12", "13", strings.Repeat("x", 5000)} {
		labels = append(labels, record.Label{Text: text})
	}
	require.Equal(t, "KW", nearestLabels("kx", labels)[0])
	require.Len(t, nearestLabels(strings.Repeat("y", 5000), labels), 5, "no more than are read in a sentence")
	require.Empty(t, nearestLabels("kx", nil))
}
