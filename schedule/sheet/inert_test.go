package sheet_test

import (
	"bytes"
	"encoding/csv"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/sheet"
)

var hostile = []string{"<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "a\"b,c\r\nd", "=cmd|' /C calc'!A0", " =1+1", "\t=1", "+1", "-1", "@SUM(A1)",
	"＝1+1", "\u202egnp.exe", "zero\u200bwidth", "\x1b[2J", "\x00", "\xff\xfe", "{{.Name}}", "&lt;", "a\u2028b", strings.Repeat("long", 2500), "", " "}

// texts are what somebody may type, or a damaged record may hold.
var texts = rapid.OneOf(rapid.SampledFrom(hostile), rapid.String(), rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, 20), func(b []byte) string { return string(b) }))

func typed(t *rapid.T) sheet.Sheet {
	start := rod("bowl", texts.Draw(t, "zone"))
	start.Stock, start.Mark, start.Limit, start.Alloy = texts.Draw(t, "stock"), texts.Draw(t, "mark"), texts.Draw(t, "limit"), rapid.OneOf(rapid.Just("AG925"), texts).Draw(t, "alloy")
	s := piece(start).by(kw, to(7), schedule.Note{Text: texts.Draw(t, "note")}, schedule.Jointed{Joint: texts.Draw(t, "joint"), Solder: texts.Draw(t, "solder")})
	s.by(mb, schedule.Signalled{Sign: schedule.Sign(texts.Draw(t, "sign"))}, schedule.Shown{Zone: texts.Draw(t, "zone shown")},
		schedule.Begun{}, schedule.Quenched{}, schedule.CrackSeen{}, schedule.CrackFiled{}, schedule.Soft{},
		schedule.Pass{Process: "lengthen", Count: rapid.IntRange(1, 9).Draw(t, "courses")})
	return sheet.Build(sheet.Source{Name: texts.Draw(t, "name"), Entries: s.entries, Hands: map[schedule.ID]string{kw: texts.Draw(t, "hand"), mb: texts.Draw(t, "other hand")}, Place: quay})
}

var (
	tags    = regexp.MustCompile(`<[a-zA-Z/!][^>]*>`)
	allowed = regexp.MustCompile(`^<!DOCTYPE html>$|^</?(html lang="en"|html|head|meta [^<>]*|title|style|body|main|article|section|h1|h2|p|div|bdi|table|caption|thead|tbody|tr|td|th|dl|dt|dd)>$|` +
		`^<(h2 id="s1-[a-z0-9]+"|p class="summary"|div class="scroll" role="region" aria-label="[A-Za-z ]+" tabindex="0"|table class="facts" aria-labelledby="s1-[a-z]+"|tbody class="step")>$|` +
		`^<(td|th scope="(row|col|rowgroup)")( class="(figure|date|word)")?( rowspan="[0-9]+")?>$`)
)

// Whatever is typed stays data, in every format.
func TestHostileTextIsInert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := typed(t)
		for end, write := range formats {
			out, err := write(s)
			require.NoError(t, err, end)
			for _, r := range string(out) {
				require.False(t, unicode.In(r, unicode.Cf, unicode.Cc, unicode.Zl, unicode.Zp) && r != '\n' && r != '\r', "%s holds %q", end, r)
			}
		}
		page, err := s.HTML()
		require.NoError(t, err)
		for _, tag := range tags.FindAllString(string(page), -1) {
			require.Regexp(t, allowed, tag)
		}
		requireCells(t, s)
	})
}

// requireCells reads the CSV back: whole lines, no formula, and courses that add up.
func requireCells(t require.TestingT, s sheet.Sheet) {
	out, err := s.CSV()
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
	require.NoError(t, err)
	require.Equal(t, sheet.Columns, rows[0])
	courses := 0
	for _, row := range rows[1:] {
		for i, cell := range row {
			if sheet.Columns[i] == "courses" && cell != "" {
				n, err := strconv.Atoi(cell)
				require.NoError(t, err)
				courses += n
			}
			_, err := strconv.ParseFloat(cell, 64)
			figure := err == nil && strings.Contains("strain strain_since_soft", sheet.Columns[i])
			trimmed := strings.TrimSpace(cell)
			require.False(t, !figure && trimmed != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(trimmed)[0]), "%s holds the formula %q", sheet.Columns[i], cell)
		}
	}
	require.Equal(t, s.Totals.Courses, courses)
}

func TestCoursesOfTheCSVAddUp(t *testing.T) {
	for name, s := range cases() {
		require.Positive(t, s.Totals.Courses, name)
		requireCells(t, s)
	}
}

func TestPageAsksForNothing(t *testing.T) {
	page, err := cases()["eventful"].HTML()
	require.NoError(t, err)
	for _, never := range []string{"<script", "<link", "<img", "http:", "https:", "url(", "@import", "src="} {
		require.NotContains(t, string(page), never)
	}
	for _, always := range []string{`<html lang="en">`, `<th scope="col">`, `<th scope="row">`, ">Work</h2>", "color: #000; background: #fff"} {
		require.Contains(t, string(page), always)
	}
	require.Equal(t, strings.Count(string(page), "<table"), strings.Count(string(page), "<caption>"))
}
