package exchange_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/exchange"
)

var anyID = rapid.Map(rapid.SliceOfN(rapid.Byte(), 16, 16), func(b []byte) string { return uuid.UUID(b).String() })

// anyText is what a keyboard, a paste or a cat gives.
var anyText = rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
	"spoon", "two\nlines", "\r\n\t", `"quoted" \ and <angled> & more`, "\u202eright to left\u202c", "\u2066isolate\u2069",
	"zero\u200bwidth\u200d\ufeff", "\u2028\u2029", "\x00\x1b[31m\x7f", strings.Repeat("ő", 10_000), "{\"check\":\"", " ", "\ufffd",
}))

// one draws from a few, so that pieces and hands have several entries.
func one(name string, n int) *rapid.Generator[string] {
	return rapid.Map(rapid.IntRange(1, n), func(i int) string {
		return uuid.NewSHA1(uuid.UUID{}, fmt.Append(nil, name, i)).String()
	})
}

var anyTime = rapid.Map(rapid.Int64Range(0, time.Date(2199, 12, 31, 0, 0, 0, 0, time.UTC).UnixMicro()),
	func(us int64) time.Time { return time.UnixMicro(us).UTC() })

var anyLength = rapid.Map(rapid.Float64Range(0.001, 100_000), func(f float64) unit.Millimetre { return unit.Millimetre(f) })

var anyReading = rapid.Custom(func(t *rapid.T) schedule.Reading {
	return schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: anyLength.Draw(t, "thick"), Width: anyLength.Draw(t, "width")}}
})

var anyBody = rapid.Custom(func(t *rapid.T) schedule.Body {
	switch rapid.IntRange(0, 9).Draw(t, "kind") {
	case 0, 1:
		return schedule.Started{Alloy: "sterling", Reading: anyReading.Draw(t, "reading"), Calliper: 0.02, Cast: rapid.Bool().Draw(t, "cast")}
	case 2, 3, 4:
		return schedule.Pass{Process: coldwork.Lengthen, Count: rapid.IntRange(1, 1000).Draw(t, "count"), Reading: anyReading.Draw(t, "reading")}
	case 5:
		return schedule.Begun{Temp: unit.Celsius(rapid.Float64Range(-273, 4000).Draw(t, "temp"))}
	case 6:
		return schedule.Soft{}
	case 7:
		return schedule.Raised{Cause: anyText.Draw(t, "cause"), What: anyText.Draw(t, "what")}
	case 8:
		return schedule.Void{Target: schedule.ID(anyID.Draw(t, "target"))}
	}
	return schedule.Note{Text: anyText.Draw(t, "text")}
})

// anyRow is a row of any kind; one in ten is of a kind to come.
var anyRow = rapid.Custom(func(t *rapid.T) schedule.Row {
	e := schedule.Entry{ID: schedule.ID(anyID.Draw(t, "id")), At: anyTime.Draw(t, "at"), Written: anyTime.Draw(t, "written"),
		Bench: schedule.ID(one("bench", 2).Draw(t, "bench")), Hand: schedule.ID(one("hand", 3).Draw(t, "hand")),
		Piece: schedule.ID(one("piece", 3).Draw(t, "piece")), Version: 1, Body: anyBody.Draw(t, "body")}
	r, err := schedule.Encode(e)
	if err != nil {
		t.Fatal(err)
	}
	if rapid.IntRange(0, 9).Draw(t, "to come") == 0 {
		r.Kind, r.Version = "to come "+anyText.Draw(t, "kind"), rapid.Int64Range(1, 99).Draw(t, "version")
		r.Process, r.Shape = anyText.Draw(t, "process"), anyText.Draw(t, "shape")
		r.Count, r.Temp = rapid.Int64().Draw(t, "count"), rapid.Float64().Draw(t, "temp")
		body, err := json.Marshal(map[string]string{"text": anyText.Draw(t, "text")})
		if err != nil {
			t.Fatal(err)
		}
		r.Body = string(body)
	}
	if exchange.CheckRow(r) != nil { // a body that a kind refuses: keep the envelope
		r = schedule.Row{ID: r.ID, At: r.At, Written: r.Written, Bench: r.Bench, Hand: r.Hand, Piece: r.Piece, Kind: "to come", Version: 1}
	}
	if r.Temp == 0 {
		r.Temp = 0 // a record keeps no minus zero
	}
	return r
})

// anyRows are rows with distinct ids, in no order.
var anyRows = rapid.SliceOfNDistinct(anyRow, 0, 12, func(r schedule.Row) string { return r.ID })

var anyLabels = rapid.SliceOfNDistinct(rapid.Custom(func(t *rapid.T) exchange.Label {
	return exchange.Label{ID: rapid.OneOf(anyID, one("piece", 3), one("hand", 3)).Draw(t, "id"),
		Class: rapid.SampledFrom([]string{"piece", "hand", "bench"}).Draw(t, "class"), Text: anyText.Draw(t, "text") + "."}
}), 0, 8, func(l exchange.Label) string { return l.ID })

// byID are rows in the order of their ids.
func byID(rows []schedule.Row) []schedule.Row {
	rows = slices.Clone(rows)
	slices.SortFunc(rows, func(a, b schedule.Row) int { return strings.Compare(a.ID, b.ID) })
	return rows
}
