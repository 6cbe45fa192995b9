package sharetest

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/share"
)

// NewID is a fresh id.
func NewID() string { return string(schedule.NewID()) }

// moment is when everything here happens.
var moment = time.Date(2031, 3, 5, 18, 30, 0, 0, time.UTC)

// Row is an entry of a bench about a piece.
func Row(bench, piece string, body schedule.Body) schedule.Row {
	r, err := schedule.Encode(schedule.Entry{ID: schedule.NewID(), At: moment, Written: moment, Bench: schedule.ID(bench),
		Hand: schedule.ID(bench), Piece: schedule.ID(piece), Version: 1, Body: body})
	if err != nil {
		panic(err) // a body that is no JSON is a mistake in a test
	}
	return r
}

// Note is an entry that says something.
func Note(bench, piece string) schedule.Row {
	return Row(bench, piece, schedule.Note{Text: "the edge is warm"})
}

// Notes are some entries about one piece.
func Notes(n int, bench, piece string) (rows []schedule.Row) {
	for range n {
		rows = append(rows, Note(bench, piece))
	}
	return rows
}

// raised is an alert as a bench raised it: its id follows from the cause.
func raised(bench, piece, cause string) schedule.Row {
	r := Row(bench, piece, schedule.Raised{Cause: cause, What: "it is hot"})
	r.ID = string(schedule.DerivedID(cause, schedule.KindRaised))
	return r
}

// toCome is an entry of a kind that this version does not know, with every column.
func toCome(bench, piece string) schedule.Row {
	return schedule.Row{ID: NewID(), At: 1, Written: 2, Bench: bench, Hand: NewID(), Piece: piece,
		Zones: "bowl\x1fstem", Kind: "polished", Version: 7, Process: "burnish", Count: 3, Shape: "oval",
		Thick: 1, Width: 2, Diameter: 3, Ring: 4, Length: 5, Temp: 6, Body: `{"with":"agate"}`}
}

var anyID = rapid.Map(rapid.SliceOfN(rapid.Byte(), 16, 16), func(b []byte) string { return uuid.UUID(b).String() })

// anyText is text of all of Unicode but U+0000.
var anyText = rapid.Map(rapid.OneOf(rapid.String(), rapid.StringN(1, 40, -1), rapid.SampledFrom([]string{
	"spoon", "two\nlines", "\r\n\t", `"quoted" \ and <angled> & 'more'`, `{"a","b"}`, "NULL", `\N`, "\u202eleft\u202c", "zero\u200bwidth\ufeff",
	"\u2028\u2029", "\x01\x1b[31m\x7f\u0085", strings.Repeat("ő", 10_000), " ", "\ufffd", "\ufffe", "\U0010ffff", "e\u0301", "\u00e9", "ſK", "İıΣσς",
})), func(s string) string { return strings.ReplaceAll(s, "\x00", "") })

// anyFigure is a binary64 that is a number: the smallest, the largest, zero of either
// sign, and any other by its bits.
var anyFigure = rapid.OneOf(
	rapid.SampledFrom([]float64{0, math.Copysign(0, -1), math.SmallestNonzeroFloat64, -math.SmallestNonzeroFloat64,
		0x1p-1022, 0x0.fffffffffffffp-1022, math.MaxFloat64, -math.MaxFloat64, 1e308, 0.1, 1 - 0x1p-53, 1 << 53}),
	rapid.Float64(),
	rapid.Map(rapid.Uint64(), func(bits uint64) float64 {
		if f := math.Float64frombits(bits); !math.IsNaN(f) && !math.IsInf(f, 0) {
			return f
		}
		return 0
	}))

// anyTime is a time that schedule.Decode believes, in microseconds since 1970.
var anyTime = rapid.Int64Range(0, time.Date(2199, 12, 31, 0, 0, 0, 0, time.UTC).UnixMicro())

// AnyRow draws entries of a bench of a kind to come, with whatever the columns can hold.
func AnyRow(bench string, pieces ...string) *rapid.Generator[schedule.Row] {
	return rapid.Custom(func(t *rapid.T) schedule.Row {
		r := schedule.Row{ID: anyID.Draw(t, "id"), At: anyTime.Draw(t, "at"), Written: anyTime.Draw(t, "written"),
			Bench: bench, Hand: anyID.Draw(t, "hand"), Piece: rapid.SampledFrom(pieces).Draw(t, "piece"),
			Kind: "to come " + anyText.Draw(t, "kind"), Version: rapid.Int64Range(1, math.MaxInt64).Draw(t, "version"),
			Process: anyText.Draw(t, "process"), Count: rapid.Int64().Draw(t, "count"), Shape: anyText.Draw(t, "shape"),
			Thick: anyFigure.Draw(t, "thick"), Width: anyFigure.Draw(t, "width"), Diameter: anyFigure.Draw(t, "diameter"),
			Ring: anyFigure.Draw(t, "ring"), Length: anyFigure.Draw(t, "length"), Temp: anyFigure.Draw(t, "temp")}
		if zones := anyText.Draw(t, "zones"); rapid.Bool().Draw(t, "zoned") {
			r.Zones = zones
		}
		if body := anyText.Draw(t, "body"); body != "" {
			quoted, err := json.Marshal(body)
			if err != nil {
				t.Fatal(err)
			}
			r.Body = string(quoted)
		}
		if share.CheckRow(r) != nil { // zones that no entry can have
			r.Zones = ""
		}
		return r
	})
}

// byID are rows in the order of their ids.
func byID(rows []schedule.Row) []schedule.Row {
	rows = slices.Clone(rows)
	slices.SortFunc(rows, func(a, b schedule.Row) int { return strings.Compare(a.ID, b.ID) })
	return rows
}
