package exchange_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/exchange"
)

const (
	idOne   = "0198f4b6-0000-7000-8000-000000000001"
	idTwo   = "0198f4b6-0000-7000-8000-000000000002"
	idPiece = "0198f4b6-0000-7000-8000-00000000000a"
)

// note is a row with a text.
func note(id, text string) schedule.Row {
	return schedule.Row{ID: id, At: 1_709_663_400_000_000, Written: 1_709_663_400_000_000, Bench: idPiece, Hand: idPiece,
		Piece: idPiece, Kind: "note", Version: 1, Body: fmt.Sprintf(`{"text":%q}`, text)}
}

func written(t require.TestingT, e exchange.Export) []byte {
	var b bytes.Buffer
	require.NoError(t, exchange.Write(&b, e))
	return b.Bytes()
}

func TestReadGivesWhatWasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := exchange.Export{Labels: anyLabels.Draw(t, "labels"), Rows: anyRows.Draw(t, "rows")}
		text := written(t, e)
		got, err := exchange.Read(bytes.NewReader(text))
		require.NoError(t, err)
		require.ElementsMatch(t, e.Labels, got.Labels)
		require.ElementsMatch(t, e.Rows, got.Rows)
		require.True(t, slices.Equal(byID(e.Rows), got.Rows))
		require.Equal(t, string(text), string(written(t, *got)), "written again")
		for i, r := range got.Rows {
			require.Contains(t, strings.Split(string(text), "\n")[got.LineOf(i)-1], r.ID)
		}
	})
}

// A byte that was changed, added or lost is refused, on its line or before it.
func TestReadRefusesEveryChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := written(t, exchange.Export{Labels: []exchange.Label{{ID: idPiece, Class: "piece", Text: "spoon"}},
			Rows: []schedule.Row{note(idOne, "one"), note(idTwo, "two")}})
		at := rapid.IntRange(0, len(text)-1).Draw(t, "at")
		other := rapid.Byte().Filter(func(b byte) bool { return b != text[at] }).Draw(t, "other")
		cases := map[string][]byte{
			"changed": slices.Concat(text[:at], []byte{other}, text[at+1:]),
			"cut":     text[:at],
			"lost":    slices.Concat(text[:at], text[at+1:]),
			"added":   slices.Concat(text[:at], []byte{other}, text[at:]),
		}
		on := 1 + bytes.Count(text[:at], []byte("\n"))
		for name, changed := range cases {
			_, err := exchange.Read(bytes.NewReader(changed))
			var bad *exchange.LineError
			require.ErrorAs(t, err, &bad, name)
			require.GreaterOrEqual(t, bad.Line, on, name)
			require.LessOrEqual(t, bad.Line, on+1, name)
		}
	})
}

// resealed reckons the checks anew, by the words of the package comment, as a forger
// would.
func resealed(contents ...string) string {
	check, out := "", ""
	for _, c := range contents {
		sum := sha256.Sum256([]byte(check + c))
		check = hex.EncodeToString(sum[:])[:16]
		out += `{"check":"` + check + `",` + c[1:] + "\n"
	}
	return out
}

// contentsOf are the lines of an export without their checks.
func contentsOf(text []byte) (lines []string) {
	for line := range strings.Lines(string(text)) {
		lines = append(lines, "{"+strings.TrimSuffix(line, "\n")[len(`{"check":"0123456789abcdef",`):])
	}
	return lines
}

func TestReadRefuses(t *testing.T) {
	whole := contentsOf(written(t, exchange.Export{Labels: []exchange.Label{{ID: idPiece, Class: "piece", Text: "spoon"}},
		Rows: []schedule.Row{note(idOne, "one"), note(idTwo, "two")}}))
	head, label, one, two, count := whole[0], whole[1], whole[2], whole[3], whole[4]
	edited := func(s, from, to string) string {
		require.Contains(t, s, from)
		return strings.Replace(s, from, to, 1)
	}
	cases := []struct {
		name   string
		text   string
		says   string
		reason string
	}{
		{"whole", resealed(whole...), "", "the checks are as the package comment says"},
		{"nothing", "", "line 1: the export ends here", "an empty file"},
		{"letter", "Dear class,\n", "line 1: it is not an export", "another file by mistake"},
		{"no head", resealed(label, one, two, count), "line 1: it is not an export", "the first line is gone"},
		{"newer", resealed(edited(head, `"version":1`, `"version":2`), "{}"), "line 1: the export was written by a newer", "a later format"},
		{"no end", resealed(head, label, one, two), "line 5: the export ends here", "cut at a line"},
		{"text after", resealed(append(slices.Clone(whole), count)...), "line 6: there is text after", "two exports in one file"},
		{"count", resealed(head, label, one, count), "line 4: the count is not", "an entry taken out, and the checks made anew"},
		{"twice", resealed(head, label, one, one, count), "line 4: an id comes twice", "an entry copied"},
		{"order", resealed(head, label, two, one, count), "line 4: an id comes twice, or not in the order", "the same entries are one text"},
		{"label late", resealed(head, one, label, two, count), "line 3: an id comes twice, or not in the order", "labels come first"},
		{"spaced", resealed(head, label, edited(one, `"version":1,`, `"version": 1,`), two, count), "line 3: it is not written as", "one spelling only"},
		{"unknown", resealed(head, label, edited(one, `"version":1,`, `"version":1,"weight":2,`), two, count), "line 3: it is not written as", "a column that would be lost"},
		{"both", resealed(head, label[:len(label)-1]+","+one[1:], two, count), "line 2: it is not written as", "one thing a line"},
		{"empty line", resealed(head, label, "{}", one, two, count), "line 3: it is not written as", "nothing on a line"},
		{"id", resealed(head, label, edited(one, idOne, "spoon"), two, count), "line 3: damaged entry \"spoon\"", "no UUID"},
		{"upper case", resealed(head, label, edited(one, `"id":"`+idOne, `"id":"0198F4B6-0000-7000-8000-000000000001`), two, count), "line 3: damaged entry", "one spelling of an id"},
		{"year", resealed(head, label, edited(one, `"at":1709663400000000`, `"at":-170966340000000000`), two, count), "line 3: damaged entry", "by schedule.Decode"},
		{"body", resealed(head, label, edited(one, `{\"text\"`, `{\"word\"`), two, count), "line 3: damaged entry", "a note without its text"},
		{"class", resealed(head, edited(label, `"class":"piece"`, `"class":"smith"`), one, two, count), "line 2: damaged label", "no such class"},
		{"nameless", resealed(head, edited(label, `"text":"spoon"`, `"text":""`), one, two, count), "line 2: damaged label", "a name is not empty"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			_, err := exchange.Read(strings.NewReader(c.text))
			if c.says == "" {
				require.NoError(t, err, c.reason)
				return
			}
			require.ErrorContains(t, err, c.says, c.reason)
		})
	}
}

func TestReadOfALaterVersion(t *testing.T) {
	_, err := exchange.Read(strings.NewReader("{\"format\":\"dullred records\",\"version\":9,\"made\":\"otherwise\"}\n"))
	require.ErrorIs(t, err, exchange.ErrNewer)
}

func TestReadOfAnEndlessLine(t *testing.T) {
	_, err := exchange.Read(strings.NewReader(strings.Repeat("a", exchange.LongestLine+2)))
	require.ErrorContains(t, err, "line 1: the line is too long")
}

func TestWriteRefuses(t *testing.T) {
	bad := note(idTwo, "two")
	bad.Version = 0
	halved := note(idOne, "one")
	halved.Zones = "\xff"
	cases := []struct {
		name   string
		export exchange.Export
		says   string
		reason string
	}{
		{"damaged", exchange.Export{Rows: []schedule.Row{note(idOne, "one"), bad}}, idTwo, "it could not be read again"},
		{"not UTF-8", exchange.Export{Rows: []schedule.Row{halved}}, "not UTF-8", "JSON would put another character"},
		{"twice", exchange.Export{Rows: []schedule.Row{note(idOne, "one"), note(idOne, "one")}}, "twice", "an id is one entry"},
		{"label", exchange.Export{Labels: []exchange.Label{{ID: idOne, Class: "piece", Text: "\xff"}}}, "not UTF-8", "as with rows"},
		{"long", exchange.Export{Rows: []schedule.Row{note(idOne, strings.Repeat("a", exchange.LongestLine))}}, "too long", "Read would refuse its line"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var b bytes.Buffer
			require.ErrorContains(t, exchange.Write(&b, c.export), c.says, c.reason)
			require.Empty(t, b.Bytes(), "nothing is written of it")
		})
	}
}
