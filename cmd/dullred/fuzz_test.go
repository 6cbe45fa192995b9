package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/cmd/internal/say"
	"dullred/schedule"
	"dullred/schedule/demo"
	"dullred/schedule/record"
)

// requireRefused is of an error that a command reports: one sentence that says what to do.
func requireRefused(t *testing.T, err error) {
	said := reported(err)
	require.Contains(t, []int{exitRefused, exitNotFound}, explain(err).Code, said)
	require.NotEmpty(t, explain(err).Do, said)
	require.Equal(t, 1, strings.Count(said, "\n"), "%q", said)
	require.False(t, strings.ContainsFunc(strings.TrimSuffix(said, "\n"), unicode.IsControl), "%q", said)
	require.True(t, utf8.ValidString(said), "%q", said)
	require.Less(t, len(said), 1500)
}

// FuzzWhen reads a text as an instant, a day and a period, in three places. An instant
// that is read is believable, and reads back from how it prints; a day and a period hold
// their beginning and have an end after it.
func FuzzWhen(f *testing.F) {
	for _, seed := range []string{"14:05", "14:05:09", "2006-01-02 14:05", "2006-01-02T15:04:05Z", "2006-01-02T15:04:05+23:59", "2026-03", "2026", "2026-03-29 02:30", "24:00",
		"1969-12-31 23:59", "2199-12-31", "0000-01-01", "2024-02-29", "2023-02-29", " 14:05 ", "\x1b14:05", "9999-99-99"} {
		f.Add(seed)
	}
	var places []*time.Location
	for _, name := range []string{"UTC", "Europe/Berlin", "Asia/Kathmandu"} {
		place, err := time.LoadLocation(name)
		if err != nil {
			place = time.FixedZone(name, 20700)
		}
		places = append(places, place)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, place := range places {
			now := time.Date(2026, 3, 5, 18, 0, 0, 0, place)
			at, err := parseWhen(text, now)
			if err != nil {
				requireRefused(t, err)
			} else {
				require.True(t, schedule.Plausible(at), "%v", at)
				again, err := parseWhen(at.Format(time.RFC3339Nano), now)
				require.NoError(t, err)
				require.True(t, at.Equal(again), "%v %v", at, again)
			}
			if day, err := dayNamed(text, place); err != nil {
				requireRefused(t, err)
			} else {
				require.Less(t, spanOf(day).From, spanOf(day).Until)
			}
			p, err := periodNamed(text, place)
			if err != nil {
				requireRefused(t, err)
				continue
			}
			require.True(t, schedule.Plausible(p.begins) && p.ends.After(p.begins), "%v", p)
		}
	})
}

// FuzzJob reads the texts of a plan: a job that is read is checked by the planner, its
// figures are finite, and the plan of it, or why there is none, is in words.
func FuzzJob(f *testing.F) {
	f.Add("sterling", "10x10x74", "0:6x3 95:18x3 190:6x3", "30", "rim:hard@745", "2x120", "", "", "", "")
	f.Add("copper", "", "", "", "", "", "", "hemispherical 100x50", "0.9", "130")
	f.Add("AG925", "8x8", "0:6 square 90:6 square", "", "a:@", "", "5x100", "", "", "")
	f.Add("brass", "8×8×70", "0:8 square 70:8 square", "1e9", ":", "2x1@end", "NaNx1", "", "", "")
	f.Add("sterling", "8x8x70", "0:8 square 70:8 square", "", "", "", "-Infx100", "conical 1x1", "x", "x")
	f.Fuzz(func(t *testing.T, alloy, bar, shape, bend, joint, tang, twist, bowl, thick, disc string) {
		flags := planFlags{alloy: alloy, bar: bar, shape: shape, bend: bend, bends: bend != "", twist: twist, bowl: bowl, thick: thick, disc: disc}
		if joint != "" {
			flags.joints = []string{joint}
		}
		if tang != "" {
			flags.tangs = []string{tang}
		}
		j, err := flags.job(alloys.Default())
		if err != nil {
			requireRefused(t, err)
			return
		}
		for _, v := range []float64{j.Turns, float64(j.Over), float64(j.Bend), float64(j.Length), float64(j.Bar.Thick), float64(j.Bar.Diameter)} {
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%v", j)
		}
		p, err := schedule.PlanIn(alloys.Default(), j, schedule.PlanKnown{})
		if err != nil {
			requireRefused(t, noPlan(err))
			return
		}
		require.NotEmpty(t, planText(p, nil))
		require.False(t, math.IsNaN(p.Minutes) || math.IsInf(p.Minutes, 0) || p.Minutes < 0, "%v", p.Minutes)
		_, err = say.JSON(planJSONOf(p), "")
		require.NoError(t, err, "no figure of it is NaN or infinite")
	})
}

// FuzzSum reads a text as what the sums of the bench take: a scrap, a metal, a fineness, a
// twist, a bar, a share and a speed. What is read is in its range; what is not is refused
// in a sentence.
func FuzzSum(f *testing.F) {
	for _, seed := range []string{"60g:925ag", "1ozt:sterling", "0.001g:999.9au", "925", "NaN", "infag", "1e-320ag", "5x100", "NaNx5", "1e400x1", "10x10x74", "8×8", "0.7", "0,7", "/dev/x@9600", "@", "a@-1", "\x1b@1", "0x1p-3:ag"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		book := alloys.Default()
		if p, err := parsePart(book, text); err != nil {
			requireRefused(t, err)
		} else {
			_, err := alloys.Mix([]alloys.Part{p})
			require.NoError(t, err)
		}
		if v, err := parseFineness(text); err != nil {
			requireRefused(t, err)
		} else {
			require.True(t, v > 0 && v <= 1, "%v", v)
		}
		if turns, over, err := parseTwist(text); err != nil {
			requireRefused(t, err)
		} else {
			require.False(t, math.IsNaN(turns) || math.IsInf(turns, 0), "%v", turns)
			require.True(t, text == "" || over > 0 && over <= unit.MaxLength, "%v", over)
		}
		if z, length, err := parseBar(text); err != nil {
			require.False(t, strings.ContainsFunc(err.Error(), unicode.IsControl), "%q", err)
		} else {
			require.NoError(t, z.Check())
			require.True(t, length >= 0 && length <= unit.MaxLength)
		}
		if v, err := share01(text); err != nil {
			requireRefused(t, err)
		} else {
			require.True(t, v >= 0.1 && v <= 1, "%v", v)
		}
		if _, err := kindsNamed(text); err != nil {
			requireRefused(t, err)
		}
		if _, speed, err := portOf(text); err != nil {
			requireRefused(t, err)
		} else {
			require.True(t, speed >= minSpeed && speed <= maxSpeed)
		}
	})
}

// FuzzSheet imports a spreadsheet into a piece, for show: the rows that are taken and those
// that are refused come to all rows of the file, each with the line that it stands at.
func FuzzSheet(f *testing.F) {
	for _, seed := range []string{"date,size\n2026-03-01 14:05,7.2x7.8\n", "date;process;count;size\n2026-03-01;raise;2;7,2x7,8\n", "\ufeffDate , TOOL\n2026-03-01,=cmd\n", "date\n\n\"\n", "date,date\n", "x\n",
		"date,count\n2026-03-01,-1\n2026-03-02,NaN\n", "date,size\n2026-03-01,\"7,2\"\n", "date,zone,ring\n2026-03-01,\x1b,1e9\n", "date\r\n2026-03-01\r\n2026-03-01\r\n"} {
		f.Add([]byte(seed))
	}
	now := time.Date(2026, 3, 5, 18, 0, 0, 0, time.UTC)
	path := filepath.Join(f.TempDir(), "record.db")
	begun := demo.Class(now)[0]
	var rows []record.Row
	for _, e := range begun.Entries {
		rows = append(rows, encoded(f, e))
	}
	rec, err := record.Open(path)
	require.NoError(f, err)
	require.NoError(f, rec.AppendNamed([]record.Label{{ID: string(begun.Entries[0].Piece), Class: record.PieceClass, Text: "spoon"}}, rows...))
	require.NoError(f, rec.Close())
	a := &app{now: func() time.Time { return now }, record: path, out: new(bytes.Buffer), getenv: os.Getenv}
	b, err := a.openAt(path, usualConfig())
	require.NoError(f, err)
	f.Cleanup(func() { require.NoError(f, b.close()) })
	f.Fuzz(func(t *testing.T, text []byte) {
		table, err := parseTable(text)
		if err != nil {
			requireRefused(t, err)
			return
		}
		p, err := b.find("spoon")
		require.NoError(t, err)
		before := len(p.entries)
		s := passSheet{app: a, bench: b, piece: p, seen: map[string]int{}, ignored: table.ignored}
		s.take(table.rows)
		bad, known := 0, 0
		for i, r := range s.rows {
			require.Equal(t, table.rows[i].line, r.line)
			switch {
			case r.bad != nil:
				bad++
				requireRefused(t, r.bad)
			case r.known:
				known++
			}
		}
		require.Equal(t, len(table.rows), len(s.fresh)+bad+known, "each row is one of the three")
		require.Len(t, p.entries, before+len(s.fresh))
		if s.refusal() != nil {
			requireRefused(t, s.refusal())
		}
		for _, e := range s.fresh {
			_, err := schedule.Decode(schedule.Row(encoded(t, e)))
			require.NoError(t, err)
		}
	})
}

// FuzzLocale: whatever the environment says, figures have a point or a comma, and dates
// an order that is known; only the first that is set counts.
func FuzzLocale(f *testing.F) {
	for _, seed := range [][3]string{{"", "de_AT.UTF-8", "C"}, {"POSIX", "", "de"}, {"en-US@x.y", "", ""}, {"\x1b[2J", "a_b", " "}, {"_", ".", "@"}} {
		f.Add(seed[0], seed[1], seed[2])
	}
	f.Fuzz(func(t *testing.T, all, numeric, lang string) {
		getenv := func(name string) string {
			return map[string]string{"LC_ALL": all, "LC_NUMERIC": numeric, "LC_TIME": numeric, "LANG": lang}[name]
		}
		s := usualConfig().style(getenv)
		require.Contains(t, []unit.DateOrder{unit.ISODates, unit.DayDots, unit.DaySlashes, unit.MonthSlashes}, s.Dates)
		require.False(t, s.Inches || s.Fahrenheit, "units follow the settings alone")
		if all != "" {
			require.Equal(t, usualConfig().style(func(string) string { return all }), s)
		}
		said := s.Text("8.5 mm, 650 °C, 2026-03-05")
		require.Equal(t, s.Comma, strings.Contains(said, "8,5"))
		require.Contains(t, said, " mm")
	})
}
