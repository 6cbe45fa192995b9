package schedule_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

var inf, nan = math.Inf(1), math.NaN()

type row = schedule.Row

// damage is a row that no version wrote, and what Decode says of it.
type damage struct {
	name, reason string
	body         schedule.Body
	spoil        func(*row)
	want         string
}

func (d damage) test(t *testing.T) {
	require.NotEmpty(t, d.reason)
	r := encode(t, entryAt(1, d.body))
	d.spoil(&r)
	_, err := schedule.Decode(r)
	require.ErrorIs(t, err, schedule.ErrRow)
	require.ErrorContains(t, err, d.want)
}

func TestDamagedEnvelope(t *testing.T) {
	year := func(y int) int64 { return time.Date(y, 6, 1, 0, 0, 0, 0, time.UTC).UnixMicro() }
	soft := schedule.Soft{}
	for _, d := range []damage{
		{"no id", "nothing could void it", soft, func(r *row) { r.ID = "" }, `"" is not an id`},
		{"piece without dashes", "one id has one text", soft, func(r *row) { r.Piece = strings.ReplaceAll(r.Piece, "-", "") }, "is not an id"},
		{"hand of blanks", "36 characters are not enough", soft, func(r *row) { r.Hand = strings.Repeat(" ", 36) }, "is not an id"},
		{"bench cut", "cut in the middle", soft, func(r *row) { r.Bench = r.Bench[:20] }, "is not an id"},
		{"before 1970", "no bench had this program", soft, func(r *row) { r.At = year(1969) }, "year 1969 is not believable"},
		{"far future", "a date with a digit too many", soft, func(r *row) { r.At = year(2200) }, "year 2200 is not believable"},
		{"typed in the far future", "both instants are checked", soft, func(r *row) { r.Written = math.MaxInt64 }, "is not believable"},
		{"version 0", "versions start at 1", soft, func(r *row) { r.Version = 0 }, "version 0: the first is 1"},
		{"version below 0", "versions start at 1", soft, func(r *row) { r.Version = -3 }, "version -3: the first is 1"},
		{"zone twice", "its work would count twice", soft, func(r *row) { r.Zones = "tip\x1ftip" }, `zone "tip" is named twice`},
		{"zone without a name", "nothing can be said of it", soft, func(r *row) { r.Zones = "tip\x1f" }, "zone name: empty"},
		{"zone with a bell", "it would ring on the screen", soft, func(r *row) { r.Zones = "tip\a" }, "does not print"},
		{"zone with an escape", "it would colour the screen", soft, func(r *row) { r.Zones = "\x1b[31mtip" }, "does not print"},
		{"zone turned round", "it would turn the line it stands in", soft, func(r *row) { r.Zones = "tip\u202e" }, "does not print"},
		{"zone with a blank end", "two names would look the same", soft, func(r *row) { r.Zones = "tip " }, "a blank at an end"},
		{"zone too long", "no column is so wide", soft, func(r *row) { r.Zones = strings.Repeat("t", 61) }, "is over 60 bytes"},
		{"zone that is not UTF-8", "it cannot be shown", soft, func(r *row) { r.Zones = "t\xff" }, "is not UTF-8"},
		{"65 zones", "no piece has so many", soft, func(r *row) { r.Zones = strings.Join(numbered(65), "\x1f") }, "65 zones: at most 64"},
	} {
		t.Run(d.name, d.test)
	}
}

func numbered(n int) (names []string) {
	for i := range n {
		names = append(names, "z"+strings.Repeat("i", i%50)+strings.Repeat("j", i/50))
	}
	return names
}

func TestDamagedBody(t *testing.T) {
	bar8, note := wrought("AG925"), schedule.Note{Text: "n"}
	for _, d := range []damage{
		{"cut JSON", "the end is missing", note, func(r *row) { r.Body = `{"text":"n` }, "note"},
		{"not an object", "a note is not a list", note, func(r *row) { r.Body = `["n"]` }, "note"},
		{"field of no kind", "it would be lost when written again", note, func(r *row) { r.Body = `{"text":"n","by":"x"}` }, `unknown field "by"`},
		{"field in a kind without", "the same", schedule.Soft{}, func(r *row) { r.Body = `{"text":"n"}` }, `unknown field "text"`},
		{"text after the body", "two bodies in one", note, func(r *row) { r.Body += `{"text":"m"}` }, "text after the body"},
		{"blank then text", "the same", note, func(r *row) { r.Body += " x" }, "text after the body"},
		{"no verdict", "a verdict is one of the words", schedule.Raised{Cause: "c"}, func(r *row) { r.Body = `{"cause":"c","verdict":"go on"}` }, `"go on" is not a verdict`},
		{"a column in the body", "figures stand in columns", schedule.Measured{Reading: bar(7, 7)}, func(r *row) { r.Body = `{"Reading":{}}` }, "unknown field"},
		{"long note", "a note is a line or two, not a file", note, func(r *row) { r.Body = `{"text":"` + strings.Repeat("x", 4097) + `"}` }, "over 4096 bytes"},
		{"zones named twice", "its work would count twice", bar8, func(r *row) { r.Body = `{"alloy":"AG925","calliper":0.1,"zones":["a","a"]}` }, "named twice"},
		{"zone with a control character", "it would move the cursor", bar8, func(r *row) { r.Body = `{"alloy":"AG925","calliper":0.1,"zones":["a\u0007"]}` }, "does not print"},
		{"no calliper", "every reading has an error", bar8, func(r *row) { r.Body = `{"alloy":"AG925"}` }, "a reading good to"},
		{"calliper below 0", "an error has no sign", bar8, func(r *row) { r.Body = `{"alloy":"AG925","calliper":-0.1}` }, "a reading good to"},
		{"radius on a lengthening", "it has none", unread("lengthen", 1), func(r *row) { r.Body = `{"radius":3}` }, "no radius and no turns"},
		{"bend without a radius", "its strain comes from it", schedule.Pass{Process: "bend", Count: 1, Radius: 9}, func(r *row) { r.Body = "" }, "needs an inside radius"},
		{"twist without turns", "its strain comes from them", schedule.Pass{Process: "twist", Count: 1, Turns: 1, Over: 9}, func(r *row) { r.Body = `{"over":9}` }, "needs turns"},
		{"twist over next to nothing", "its strain would pass all bounds", schedule.Pass{Process: "twist", Count: 1, Turns: 1, Over: 9}, func(r *row) { r.Body = `{"turns":1,"over":1e-300}` }, "not believable"},
		{"turns without end", "no hand does it", schedule.Pass{Process: "twist", Count: 1, Turns: 1, Over: 9}, func(r *row) { r.Body = `{"turns":1e9,"over":9}` }, "not believable"},
	} {
		t.Run(d.name, d.test)
	}
}

func TestDamagedFigures(t *testing.T) {
	read, bar8 := schedule.Measured{Reading: bar(7, 7)}, wrought("AG925")
	for _, d := range []damage{
		{"thickness that is no number", "all that is computed from it would be none", read, func(r *row) { r.Thick = nan }, "measured"},
		{"endless width", "the same", read, func(r *row) { r.Width = inf }, "measured"},
		{"thickness below 0", "a size has no sign", read, func(r *row) { r.Thick = -7 }, "measured"},
		{"thickness of 0", "a shape needs its figures", read, func(r *row) { r.Thick = 0 }, "measured"},
		{"diameter of a bar", "its shape has none", read, func(r *row) { r.Diameter = 3 }, "does not use"},
		{"another shape's figures", "a round has a diameter", read, func(r *row) { r.Shape = "round" }, "measured"},
		{"shape by another name", "one shape has one name in a record", schedule.Measured{Reading: wire(3)}, func(r *row) { r.Shape = "dia" }, "do not belong"},
		{"figures without a shape", "nothing can be made of them", read, func(r *row) { r.Shape = "" }, "no shape"},
		{"reading of nothing", "it says nothing", read, func(r *row) { r.Shape, r.Thick, r.Width = "", 0, 0 }, "a reading without a figure"},
		{"trim to nothing", "it says nothing", schedule.Filed{Reading: bar(7, 7)}, func(r *row) { r.Shape, r.Thick, r.Width = "", 0, 0 }, "a reading without a figure"},
		{"ring below 0", "a size has no sign", schedule.Measured{Reading: vessel(1, 90)}, func(r *row) { r.Ring = -1 }, "a ring diameter of -1 mm"},
		{"ring without end", "no stake is so large", schedule.Measured{Reading: vessel(1, 90)}, func(r *row) { r.Ring = inf }, "not believable"},
		{"length that is no number", "nothing can be reckoned", bar8, func(r *row) { r.Length = nan }, "not believable"},
		{"piece without a section", "every strain starts from it", bar8, func(r *row) { r.Shape, r.Thick, r.Width = "", 0, 0 }, "a piece without a section"},
		{"heat without end", "no fire gives it", schedule.Reached{Temp: 600}, func(r *row) { r.Temp = inf }, "not believable"},
		{"heat below all cold", "there is none", schedule.Out{Temp: 600}, func(r *row) { r.Temp = -300 }, "not believable"},
		{"heat begun that is no number", "nothing can be compared with it", schedule.Begun{Temp: 20}, func(r *row) { r.Temp = nan }, "not believable"},
		{"0 courses", "a pass is one at least", unread("roll", 1), func(r *row) { r.Count = 0 }, "0 courses: expected 1 to 1000"},
		{"courses below 0", "work is not taken back so", unread("roll", 1), func(r *row) { r.Count = -1 }, "-1 courses"},
		{"1001 courses", "a digit too many", unread("roll", 1), func(r *row) { r.Count = 1001 }, "1001 courses"},
		{"no process", "nothing can be expected of it", unread("roll", 1), func(r *row) { r.Process = "" }, "is not a process"},
		{"capital process", "under another name its strain would not be counted", unread("roll", 1), func(r *row) { r.Process = "Roll" }, `process "Roll" is written "roll"`},
		{"temperature of a pass", "a pass has no such column", unread("roll", 1), func(r *row) { r.Temp = 20 }, "figures that do not belong to it"},
		{"courses of a reading", "a reading has no such column", read, func(r *row) { r.Count = 2 }, "figures that do not belong to it"},
		{"thickness of a note", "a note has no figures", schedule.Note{Text: "n"}, func(r *row) { r.Thick = 2 }, "figures that do not belong to it"},
		{"process of a quench", "a quench is all there is", schedule.Quenched{}, func(r *row) { r.Process = "roll" }, "figures that do not belong to it"},
		{"length of a pass", "it would be lost when written again", unread("roll", 1), func(r *row) { r.Length = 90 }, "figures that do not belong to it"},
	} {
		t.Run(d.name, d.test)
	}
}

func TestDamageSilencesItsPieceOnly(t *testing.T) {
	other := schedule.ID("0198f4b6-0000-7000-8000-0000000000c1")
	var rows []row
	for _, e := range start(wrought("AG925")).then(unread("roll", 1)) {
		rows = append(rows, encode(t, e))
		e.Piece, e.ID = other, schedule.DerivedID(string(e.ID), e.Kind())
		rows = append(rows, encode(t, e))
	}
	rows[2].Count = -7
	pieces := map[schedule.ID]story{}
	for i, e := range schedule.DecodeAll(rows) {
		require.Equal(t, rows[i], encode(t, e), "every row is kept whole")
		pieces[e.Piece] = append(pieces[e.Piece], e)
	}
	requireSilent(t, pieces[piece], "damaged entry "+rows[2].ID)
	require.Equal(t, schedule.VerdictCarryOn, pieces[other].advice().Verdict, "the other piece is whole")

	mended := pieces[piece].then(schedule.Void{Target: schedule.ID(rows[2].ID)})
	require.Equal(t, schedule.VerdictCarryOn, mended.advice().Verdict, "what is damaged can be taken back")
}
