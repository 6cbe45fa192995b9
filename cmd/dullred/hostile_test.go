package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/adrg/xdg"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/tui"
	pages "dullred/tui/view"
)

// marker is what a hostile text has of plain letters, so that it is found again.
const marker = "EVIL"

// seen is hostile text of signs that print: a formula, markup of the screen, of pages,
// of figures and of papers.
const seen = `=cmd|'/c EVIL'!A1 [red::b][-] <script>EVIL</script><svg/onload=x> &lt; ") (\ # **b** $(x)`

// unseen is hostile text of signs that do not: orders to the terminal (clipboard, title,
// colour, clear, a bell, in seven and in eight bits), what turns a line around or does
// not show, the end of a text in C, and a line that is none of ours.
const unseen = "\x1b]52;c;RVZJTA==\x07\x1b]0;EVIL\x1b\\\x1b[2J\u009b31m\u009d0;EVIL\u009c\a\u202eLIVE\u2066\u200b\u2060\ufeff\x00\x7f\u2028\u2029\r\nFORGED: EVIL\tx\u0085FORGED"

// A record as only another program can have made it.
type hostileShop struct {
	path  string
	piece string // its name; of the others that and a number
	hand  string
	entry schedule.ID // one that can be taken back
	at    time.Time
}

func (s *hostileShop) named(n int) string {
	if n == 0 {
		return s.piece
	}
	return fmt.Sprint(s.piece, n)
}

// hostileBodies are the entries of the pieces: the first is in order as far as its
// figures go, the second is of a metal nobody knows, the third cannot be read, the
// fourth is hot.
func hostileBodies() [][]schedule.Body {
	begun := schedule.Started{Alloy: "AG925", Reading: passTo(8, 8).(schedule.Pass).Reading, Calliper: 0.1,
		Zones: []string{"<b>EVIL", "=EVIL()"}, Mark: "+EVIL[red]", Stock: "@EVIL<script>", Length: 70}
	work := passTo(7.2, 7.8).(schedule.Pass)
	work.Tool = "-EVIL<i>|x"
	alloy := begun
	alloy.Alloy, alloy.Limit = seen+unseen, unseen
	plain := begun
	plain.Zones = nil
	hot := func(at schedule.Body) []schedule.Body { return []schedule.Body{plain, work, at} }
	return [][]schedule.Body{
		{begun, work, schedule.Note{Text: seen + unseen}, schedule.Photo{Ref: "/" + marker + `/$(x)<b>"=.jpg`},
			schedule.Raised{Cause: seen + unseen, What: seen + unseen, Verdict: schedule.VerdictAnnealNow},
			schedule.Shown{Verdict: schedule.VerdictCarryOn, Zone: seen + unseen, Table: unseen, Limit: 0.5},
			schedule.Jointed{Joint: "<b>EVIL", Solder: "EVIL" + unseen, Solidus: 700, Flow: 720},
			schedule.Unknown{Row: schedule.Row{Kind: "EVIL" + unseen, Process: seen + unseen, Version: 1, Body: `{"EVIL":"\u001b[31m"}`}}},
		{alloy, work},
		{schedule.Unknown{Row: schedule.Row{Kind: string(schedule.KindStarted), Version: 1, Shape: seen + unseen, Body: `{"alloy":"AG925","mark":"\u001b]0;EVIL\u0007\nFORGED"}`}}},
		hot(schedule.Begun{Torch: "=EVIL<b>[red]"}),
		hot(schedule.Pickled{}),
		hot(schedule.CrackSeen{}),
		{plain, work, schedule.Measured{Reading: passTo(7, 7.7).(schedule.Pass).Reading}},
	}
}

// newHostileShop writes the record, as a merge with a foreign program would.
func newHostileShop(t *testing.T) *hostileShop {
	s := &hostileShop{path: filepath.Join(t.TempDir(), "record.db"), piece: seen + unseen, hand: "@h " + seen + unseen, at: time.Now().Add(-time.Hour)}
	rec, err := record.Open(s.path)
	require.NoError(t, err)
	bench, hand := schedule.NewID(), schedule.NewID()
	labels := []record.Label{{ID: string(bench), Class: record.BenchClass, Text: "bench " + seen + unseen}, {ID: string(hand), Class: record.HandClass, Text: s.hand}}
	var rows []record.Row
	for n, bodies := range hostileBodies() {
		piece := schedule.NewID()
		labels = append(labels, record.Label{ID: string(piece), Class: record.PieceClass, Text: s.named(n)})
		for i, body := range bodies {
			at := schedule.Moment(s.at.Add(time.Duration(60*n+i) * time.Second))
			e := schedule.Entry{ID: schedule.NewID(), At: at, Written: at, Bench: bench, Hand: hand, Piece: piece, Version: 1, Body: body}
			if s.entry == "" && e.Kind() == schedule.KindNote {
				s.entry = e.ID
			}
			rows = append(rows, hostileRow(t, e))
		}
	}
	lit := schedule.Entry{ID: schedule.NewID(), At: schedule.Moment(s.at), Written: schedule.Moment(s.at), Bench: bench, Hand: hand, Piece: bench, Version: 1, Body: schedule.TorchLit{Torch: "+EVIL<b>"}}
	require.NoError(t, rec.AppendNamed(labels, append(rows, hostileRow(t, lit))...))
	require.NoError(t, rec.Close())
	return s
}

// hostileRow is an entry as it is kept; one that is unknown keeps its row but for what
// says whose it is.
func hostileRow(t *testing.T, e schedule.Entry) record.Row {
	row, err := schedule.Encode(e)
	require.NoError(t, err)
	if _, strange := e.Body.(schedule.Unknown); strange {
		row.ID, row.At, row.Written = string(e.ID), e.At.UnixMicro(), e.Written.UnixMicro()
		row.Bench, row.Hand, row.Piece = string(e.Bench), string(e.Hand), string(e.Piece)
	}
	return record.Row(row)
}

// hostileRun is a command with its words; %0 to %6 are the names of the pieces, %h is
// the hand and %e an entry. Of quiet ones no name is printed where all goes well.
type hostileRun struct {
	words string
	quiet bool
}

// hostileRuns are the commands that read a record, by their path. A new command needs a
// row here or below.
var hostileRuns = map[string][]hostileRun{
	"ack":            {{words: "%0", quiet: true}, {words: "%6"}},
	"advise":         {{}, {words: "%0"}, {words: "%1"}, {words: "%2"}, {words: "%3"}, {words: "%6 --why"}},
	"batch":          {{quiet: true}, {words: "%0 %6"}},
	"class":          {{}},
	"card":           {{words: "--plan %0"}, {words: "--plan %0 --format html"}},
	"cool":           {{words: "%4", quiet: true}, {words: "%3"}},
	"crack filed":    {{words: "%5"}},
	"crack override": {{words: "%5"}},
	"crack seen":     {{words: "%0"}},
	"dressed":        {{words: "%0"}},
	"export":         {{}, {words: "--piece %0"}},
	"filed":          {{words: "%6 6.4x7.2"}},
	"flux":           {{words: "%0"}},
	"forget":         {{words: "%h"}, {words: "%h --dry-run"}},
	"hand":           {{words: "%h"}, {quiet: true}},
	"heat begin":     {{words: "%0"}},
	"heat out":       {{words: "%3"}},
	"heat reach":     {{words: "%3"}},
	"joint":          {{words: "%0", quiet: true}, {words: "%0 %h --solder %h"}},
	"limit":          {{words: "sterling", quiet: true}, {words: "sterling --stock @EVIL<script>"}},
	"log":            {{}, {words: "%0"}, {words: "%2"}, {words: "--text EVIL"}, {words: "--hand-of x", quiet: true}},
	"measure":        {{words: "%6 6.4x7.2"}},
	"note":           {{words: "%0 %h"}},
	"pass":           {{words: "%0"}, {words: "%6 6.9x7.6"}},
	"photo":          {{words: "%0 12-19"}},
	"pickle in":      {{words: "%0"}},
	"pickle out":     {{words: "%4"}},
	"picture":        {{words: "%0"}, {words: "%6 --of hardness"}, {words: "%0 --format svg"}, {words: "%0 --of shape --format svg"}, {words: "--class --format svg", quiet: true}},
	"piece finish":   {{words: "%6"}},
	"piece list":     {{}},
	"piece new":      {{words: "%h --alloy sterling --size 8x8"}, {words: "x --alloy %h --size 8x8"}, {words: "x --alloy sterling --size %h"}},
	"plan":           {{words: "%0"}},
	"proved soft":    {{words: "%4", quiet: true}},
	"proved springy": {{words: "%4", quiet: true}},
	"quench":         {{words: "%3"}},
	"record check":   {{quiet: true}},
	"sheet":          {{words: "%0"}, {words: "%2"}, {words: "%0 --format csv"}, {words: "--all --format html --pictures"}, {words: "%6 --format html"}},
	"sign":           {{words: "%0 clumsy", quiet: true}, {words: "%0 %h"}},
	"stock":          {{words: "--alloy %h --shape %h"}},
	"torch lit":      {{words: "--name %h"}},
	"torch out":      {{quiet: true}},
	"totals":         {{quiet: true}},
	"void":           {{words: "%e"}},
	"watch":          {{words: "--once"}, {words: "%3 --once"}},
	"weigh":          {{words: "%0 77.0g"}},
	"worked":         {{words: "--alloy %h --from 8x8 --to 7x8"}},
}

// hostileNone are commands that print no name out of a record, and why, or whose test
// is elsewhere.
var hostileNone = map[string]string{
	"crack": "a group", "heat": "a group", "pickle": "a group", "piece": "a group", "proved": "a group", "torch": "a group",
	"alloys": "tables", "alloys check": "TestHostileAlloys", "alloys solders": "tables", "bath": "the bench alone", "bench": "the screen: TestHostileScreen", "config": "settings",
	"drill": "a lesson", "glow": "sums", "import": "TestExportOfHostileNames", "merge": "TestExportOfHostileNames", "light": "the bench alone", "mix": "sums", "noise": "the bench alone",
	"probe": "its lines: schedule/probe", "record": "a group", "record backup": "a file", "manual": "the pages of the commands", "safety": "a page", "soften": "sums", "trial": "simulated",
}

// arguments are the words of a run with the names put in.
func (s *hostileShop) arguments(path string, r hostileRun) []string {
	args := strings.Fields(path)
	for _, w := range strings.Fields(r.words) {
		switch {
		case w == "%h":
			w = s.hand
		case w == "%e":
			w = string(s.entry)
		case len(w) == 2 && w[0] == '%':
			w = s.named(int(w[1] - '0'))
		}
		args = append(args, w)
	}
	return args
}

// run runs a command on a copy of the record.
func (s *hostileShop) run(t *testing.T, args ...string) (out, errOut string, code int) {
	home := t.TempDir()
	path := filepath.Join(home, "record.db")
	text, err := os.ReadFile(s.path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, text, 0o600))
	var o, e bytes.Buffer
	code = run(append(args, "--record", path), &o, &e, func(name string) string { return map[string]string{"HOME": home}[name] })
	return o.String(), e.String(), code
}

// requireHarmless is of all that is printed: nothing that a terminal obeys, that turns a
// line or is not seen, and no line that is none of ours.
func requireHarmless(t *testing.T, said, text string) {
	require.True(t, utf8.ValidString(text), said)
	for _, line := range strings.Split(text, "\n") {
		bad := strings.IndexFunc(line, func(r rune) bool {
			return r != '\t' && unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp)
		})
		require.Less(t, bad, 0, "%s: %q", said, line)
		require.False(t, strings.HasPrefix(line, "FORGED"), "%s: %q", said, line)
	}
}

// requireNoMarkup reads a page and finds no element or attribute in it that runs.
func requireNoMarkup(t *testing.T, said, text string) {
	d := xml.NewDecoder(strings.NewReader(text))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	elements := 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err, said)
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		elements++
		require.NotContains(t, []string{"script", "i", "iframe", "img"}, start.Name.Local, said)
		for _, a := range start.Attr {
			require.False(t, strings.HasPrefix(a.Name.Local, "on"), "%s: %s", said, a.Name.Local)
		}
	}
	require.NotZero(t, elements, said)
}

// requireNoFormula reads a table as a spreadsheet does.
func requireNoFormula(t *testing.T, said, text string) {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err, said)
	require.Greater(t, len(rows), 1, said)
	for _, row := range rows {
		for _, cell := range row {
			if strings.Contains(cell, marker) {
				require.NotRegexp(t, `^\s*[=+\-@]`, cell, said)
			}
		}
	}
}

func TestHostileNamesAreTextEverywhere(t *testing.T) {
	s := newHostileShop(t)
	for _, path := range slices.Sorted(maps.Keys(hostileRuns)) {
		for _, r := range hostileRuns[path] {
			t.Run(path+" "+r.words, func(t *testing.T) { s.requireText(t, s.arguments(path, r), r.quiet) })
			t.Run(path+" "+r.words+" --json", func(t *testing.T) { s.requireObject(t, append(s.arguments(path, r), "--json")) })
		}
	}
}

func (s *hostileShop) requireText(t *testing.T, args []string, quiet bool) {
	out, errOut, code := s.run(t, args...)
	said := strings.Join(args, " ")
	if code != exitOK {
		require.Equal(t, 1, strings.Count(errOut, "\n"), errOut)
		require.Less(t, len(errOut), 1500, errOut)
	}
	require.NotEqual(t, exitFailed, code, errOut)
	if args[0] == "export" {
		require.NotRegexp(t, "[\x00-\x09\x0b-\x1f]", out)
		return
	}
	switch {
	case strings.Contains(said, "--format csv"):
		requireNoFormula(t, said, out)
		out = strings.ReplaceAll(out, "\r\n", "\n")
	case strings.Contains(said, "--format html"), strings.Contains(said, "--format svg"):
		if code == exitOK {
			requireNoMarkup(t, said, out)
		}
	}
	requireHarmless(t, said, out+errOut)
	if !quiet {
		require.Contains(t, strings.ReplaceAll(out+errOut, "FORGED", marker), marker, "the name is not hidden: %s", said)
	}
}

func (s *hostileShop) requireObject(t *testing.T, args []string) {
	out, errOut, code := s.run(t, args...)
	requireHarmless(t, "error", errOut)
	if code != exitOK || args[0] == "export" || slices.Contains(args, "--format") {
		return
	}
	requireHarmless(t, "object", out)
	for d := json.NewDecoder(strings.NewReader(out)); d.More(); {
		var v any
		require.NoError(t, d.Decode(&v), out)
	}
}

// Every command is in one of the tables, and no other.
func TestHostileRunsKnowEveryCommand(t *testing.T) {
	known := map[string]bool{}
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			walk(sub)
		}
		path := strings.TrimPrefix(strings.TrimPrefix(c.CommandPath(), "dullred"), " ")
		if path == "" || c.Hidden || path == "help" || !c.Runnable() {
			return
		}
		known[path] = true
		_, runs := hostileRuns[path]
		_, none := hostileNone[path]
		require.True(t, runs != none, "%s: a row in hostileRuns, or in hostileNone with a reason", path)
	}
	walk((&app{getenv: func(string) string { return "" }}).root())
	for path := range hostileRuns {
		require.True(t, known[path], path)
	}
	for path := range hostileNone {
		require.True(t, known[path], path)
	}
}

// What a smith types is refused at the door where it does not print, by one sentence;
// a note alone may be any text.
func TestHostileTextAtTheDoor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	ran(t, path, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8", "--zones", "[red]tip,<b>butt", "--mark", "=cmd|'/c'")
	begun := []string{"piece", "new", "x", "--alloy", "sterling", "--size", "8x8"}
	doors := map[string][]string{
		"piece": {"piece", "new", "%", "--alloy", "sterling", "--size", "8x8"}, "alloy": {"piece", "new", "x", "--alloy", "%", "--size", "8x8"},
		"size": {"piece", "new", "x", "--alloy", "sterling", "--size", "%"}, "hand": append(slices.Clone(begun), "--hand", "%"),
		"mark": append(slices.Clone(begun), "--mark", "%"), "stock": append(slices.Clone(begun), "--stock", "%"),
		"zones": append(slices.Clone(begun), "--zones", "%"), "zone": {"pass", "spoon", "--zone", "%"}, "tool": {"pass", "spoon", "--tool", "%"},
		"torch": {"torch", "lit", "--name", "%"}, "joint": {"joint", "spoon", "%", "--solder", "easy"}, "photo": {"photo", "spoon", "%"},
		"sign": {"sign", "spoon", "%"}, "time": {"note", "spoon", "x", "--at", "%"}, "entry": {"void", "%"}, "command": {"%"}, "flag": {"--%"},
	}
	kept := ran(t, path, "export")
	for _, door := range slices.Sorted(maps.Keys(doors)) {
		for _, sign := range []string{"\x1b[2J", "\x1b]52;c;eA==\x07", "\u009b31m", "\u202eab", "\u2066ab", "a\u200bb", "a\x00b", "a\nb", "a\tb", "a\u2028b", "\xff", "a\x7f"} {
			args := slices.Clone(doors[door])
			for i, w := range args {
				args[i] = strings.Replace(w, "%", sign, 1)
			}
			var out, errOut bytes.Buffer
			code := run(append(args, "--record", path), &out, &errOut, func(string) string { return "" })
			said := fmt.Sprintf("%s %q: %s", door, sign, errOut.String())
			require.Contains(t, []int{exitRefused, exitNotFound}, code, said)
			require.Empty(t, out.String(), said)
			require.Equal(t, 1, strings.Count(errOut.String(), "\n"), said)
			require.Contains(t, errOut.String(), "nothing was recorded", said)
			requireHarmless(t, said, errOut.String())
		}
	}
	require.Equal(t, kept, ran(t, path, "export"))
}

// A smith's own alloys are named in a file that anybody may have given him.
func TestHostileAlloys(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", home)
	xdg.Reload()
	t.Cleanup(xdg.Reload)
	quoted := func(text string) string { return `"` + strings.ReplaceAll(text, `"`, `""`) + `"` }
	hostile := quoted(seen + strings.NewReplacer("\x00", "", "\r", "").Replace(unseen))
	table := "key,author,title,year,locator\nme," + hostile + "," + hostile + ",2020,x\n" +
		"id,name,uns,fineness,names,family,composition,self_softening\nQUAY," + hostile + ",,,,silver," + hostile + ",no\n" +
		"alloy,property,form,condition,school,at,at_kind,low,high,bound,unit,use,source,confidence,note\n" +
		"QUAY,solidus,,,,,,779,779,,C,default,me,read," + hostile + "\n" +
		"QUAY,anneal,,,,,,600,650,,C,default,me,practice,\nQUAY,limit,hand,wrought," + hostile + ",,,50,50,,pct_thickness,default,me,practice,\n" +
		"alloy,kind,text,use,source,confidence\nQUAY,quench," + hostile + ",default,me,practice\n"
	folder := filepath.Join(home, "dullred")
	require.NoError(t, os.MkdirAll(folder, 0o700))
	file := filepath.Join(folder, "alloys.csv")
	require.NoError(t, os.WriteFile(file, []byte(table), 0o600))
	record, shown := filepath.Join(home, "record.db"), 0
	for _, args := range [][]string{{"alloys"}, {"alloys", "QUAY"}, {"alloys", "check", file}, {"card", "QUAY"}, {"worked", "--alloy", "QUAY", "--from", "8x8", "--to", "7x7"},
		{"piece", "new", "fork", "--alloy", "QUAY", "--size", "8x8"}, {"advise", "fork"}, {"sheet", "fork", "--format", "html"}} {
		for _, flag := range []string{"--json=false", "--json"} {
			var out, errOut bytes.Buffer
			run(append(args, flag, "--record", record), &out, &errOut, func(string) string { return "" })
			requireHarmless(t, strings.Join(args, " "), out.String()+errOut.String())
			shown += strings.Count(out.String(), marker)
		}
	}
	require.Greater(t, shown, 10, "the file is read, and its names are shown")
}

// The screen shows a hostile record in every page, as text.
func TestHostileScreen(t *testing.T) {
	s, now := newHostileShop(t), time.Now()
	on := screenOn(t, s.path, &now)
	found := false
	for range hostileBodies() {
		for _, press := range []rune{'v', 'v', 'v', 'v', '\t', '\t', '/', '/', 'w', 'w', '?', '?', 'z', 'a', 'n'} {
			p := tui.Press{Rune: press}
			if press == '\t' {
				p = tui.Press{Key: tui.Tab}
			}
			on.Press(p)
			frame := pages.Draw(on.Scene(), 120, 40).String()
			requireHarmless(t, string(press), frame)
			found = found || strings.Contains(frame, "EVIL")
		}
	}
	require.True(t, found, "the names are shown")
}
