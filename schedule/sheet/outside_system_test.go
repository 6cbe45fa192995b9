//go:build system

package sheet_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule/sheet"
)

// debianPython is Debian's, which python3-jsonschema belongs to.
const debianPython = "/usr/bin/python3"

// python gives a program a text and some arguments and returns what it printed.
func python(t *testing.T, program string, stdin []byte, args ...string) (string, error) {
	t.Helper()
	cmd := exec.Command(debianPython, append([]string{"-c", program}, args...)...)
	cmd.Stdin = strings.NewReader(string(stdin))
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		return string(out), fmt.Errorf("%w: %s", err, complaint.String())
	}
	return string(out), nil
}

// csvReader reads the lines of RFC 4180 strictly and sums what is under each head.
const csvReader = `
import csv, io, json, sys
raw = sys.stdin.buffer.read()
assert raw.endswith(b"\r\n") and raw.count(b"\r\n") == raw.count(b"\n") == raw.count(b"\r"), "line ends"
rows = list(csv.DictReader(io.StringIO(raw.decode("utf-8"), newline=""), strict=True, restkey="more", restval=None))
assert all("more" not in r and None not in r.values() for r in rows), "a line is longer or shorter than the heads"
total = lambda column: sum(float(r[column]) for r in rows if r[column])
print(json.dumps({"Rows": len(rows), "Courses": total("courses"), "Strain": total("strain"), "Grams": total("grams"),
    "Heats": sum(r["kind"] == "heat" for r in rows), "Name": rows[0]["text"],
    "Notes": [r["text"] for r in rows if r["kind"] == "note"]}))
`

// sums is what csvReader prints.
type sums struct {
	Rows                   int
	Courses, Strain, Grams float64
	Heats                  int
	Name                   string
	Notes                  []string
}

// sumsOf are the same sums of the sheet itself.
func sumsOf(s sheet.Sheet) (out sums) {
	out.Courses, out.Heats = float64(s.Totals.Courses), s.Totals.Heats
	for _, w := range s.Work {
		for _, z := range w.Zones {
			if z.Strain != nil {
				out.Strain += *z.Strain
			}
		}
	}
	for _, w := range s.Weights {
		out.Grams += w.Grams
	}
	return out
}

// The csv module of Python reads the CSV, and its columns add up.
//
// Outside check (reference): csv of Python, RFC 4180: the making record adds up.
func TestSystemPythonSumsTheCSV(t *testing.T) {
	for name, s := range cases() {
		file, err := s.CSV()
		require.NoError(t, err)
		out, err := python(t, csvReader, file)
		require.NoError(t, err, name)
		var got sums
		require.NoError(t, json.Unmarshal([]byte(out), &got))
		want := sumsOf(s)
		require.Greater(t, got.Rows, 10, name)
		require.InDelta(t, want.Courses, got.Courses, 0, name)
		require.InDelta(t, want.Strain, got.Strain, 1e-9, name)
		require.InDelta(t, want.Grams, got.Grams, 1e-9, name)
		require.Equal(t, want.Heats, got.Heats, name)
		require.Equal(t, s.Name, got.Name)
	}
}

// Outside check (reference): csv of Python, RFC 4180: whatever is typed stays in its cell.
func TestSystemPythonReadsHostileCSV(t *testing.T) {
	for _, text := range threats() {
		s := named(text)
		file, err := s.CSV()
		require.NoError(t, err)
		out, err := python(t, csvReader, file)
		require.NoError(t, err, text)
		var got sums
		require.NoError(t, json.Unmarshal([]byte(out), &got))
		require.Len(t, got.Notes, 1)
		require.Equal(t, s.Notes[0].Text, strings.TrimPrefix(got.Notes[0], "'"))
		_, err = python(t, csvReader, file[:len(file)-1])
		require.ErrorContains(t, err, "line ends")
	}
}

// validator holds documents, one a line, against a schema. The package leaves dates
// unchecked where another is missing, so that the program checks them by itself.
const validator = `
import datetime, json, sys, jsonschema
schema = json.load(open(sys.argv[1]))
jsonschema.Draft202012Validator.check_schema(schema)
dates = jsonschema.FormatChecker(formats=())
@dates.checks("date-time", raises=ValueError)
def is_date(text):
    return not isinstance(text, str) or datetime.datetime.fromisoformat(text).tzinfo is not None
v = jsonschema.Draft202012Validator(schema, format_checker=dates)
for line in sys.stdin:
    print("yes" if v.is_valid(json.loads(line)) else "no")
`

// verdicts is what python3-jsonschema says of each document.
func verdicts(t *testing.T, documents []map[string]any) []string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "schema.json")
	require.NoError(t, os.WriteFile(file, sheet.Schema, 0o600))
	var lines strings.Builder
	for _, d := range documents {
		line, err := json.Marshal(d)
		require.NoError(t, err)
		lines.Write(append(line, '\n'))
	}
	out, err := python(t, validator, []byte(lines.String()), file)
	require.NoError(t, err, "install the Debian package python3-jsonschema")
	return strings.Fields(out)
}

// A second validator takes every sheet and refuses every one that is spoiled.
//
// Outside check (reference): jsonschema of Python: takes every sheet and refuses every spoiled
// one.
func TestSystemJSONSchema(t *testing.T) {
	var sound, broken []map[string]any
	for _, s := range cases() {
		sound = append(sound, decoded(t, s))
	}
	for _, text := range threats() {
		sound = append(sound, decoded(t, named(text)))
	}
	for _, spoil := range spoils {
		v := decoded(t, cases()["eventful"])
		spoil(v)
		broken = append(broken, v)
	}
	want := strings.Fields(strings.Repeat("yes ", len(sound)) + strings.Repeat("no ", len(broken)))
	require.Equal(t, want, verdicts(t, append(sound, broken...)))
}
