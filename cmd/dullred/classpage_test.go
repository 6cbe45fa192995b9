package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/rivo/uniseg"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/class"
)

// busy is a hand with something in every column and every note.
var busy = class.Counts{Pieces: 3, Tests: 2, Courses: 140, Over: 12, Unjudged: 9, Heats: 12, Anneals: 5, Springy: 3, Unproven: 4, Open: 1,
	Early: 3, Splits: 2, Drill: class.Drill{Lessons: 3, Asked: 10, Off: -1000, Heats: 9, Wasted: 2, Splits: 1}}

// lessonWith is a lesson of so many busy hands.
func lessonWith(hands int, label func(n int) string) (class.Lesson, people) {
	l, who := class.Lesson{Day: time.Date(2024, time.September, 25, 0, 0, 0, 0, time.UTC)}, people{}
	for n := range hands {
		id := growthID(3, n)
		l.Rows = append(l.Rows, class.Row{Hand: id, Counts: busy})
		who[id] = label(n)
	}
	return l, who.callAll([]class.Lesson{l})
}

// requirePages wants pages of A4 as plain text, with the same head each.
func requirePages(t require.TestingT, pages []string) {
	for _, page := range pages {
		lines := strings.Split(strings.TrimSuffix(page, "\n"), "\n")
		require.LessOrEqual(t, len(lines), pageLines, page)
		require.Equal(t, classHead, lines[2])
		require.Equal(t, classHeads(), lines[3]+"\n")
		for _, line := range lines {
			require.LessOrEqual(t, uniseg.StringWidth(line), pageColumns, line)
			require.False(t, strings.ContainsFunc(line, unicode.IsControl), "%q", line)
		}
	}
}

func TestClassPages(t *testing.T) {
	number := func(n int) string { return fmt.Sprint(n + 1) }
	long := func(n int) string { return strings.Repeat("w", 50) + fmt.Sprint(n) }
	cases := []struct {
		name, reason string
		hands, pages int
		label        func(int) string
	}{
		{"one", "a teacher with a student", 1, 1, number},
		{"twelve", "the class that the page is for", 12, 1, number},
		{"twelve with long names", "as long as a label may be", 12, 1, long},
		{"twelve in wide letters", "each takes two columns", 12, 1, func(n int) string { return strings.Repeat("銀", n+1) }},
		{"twelve forgotten", "they have numbers", 12, 1, func(int) string { return "" }},
		{"thirty", "everything with them still fits", 30, 1, number},
		{"as many as there are lines", "the totals go over the page", 56, 2, number},
		{"a hundred and twenty", "the notes are long as well", 120, 4, number},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			l, called := lessonWith(c.hands, c.label)
			pages := lessonPages(l, called)
			requirePages(t, pages)
			require.Len(t, pages, c.pages, c.reason)
			text := strings.Join(pages, "")
			require.Equal(t, 1, strings.Count(text, "\nall hands "))
			for _, r := range l.Rows {
				require.Contains(t, text, "\n"+classRow(called[r.Hand], r.Counts), "every hand has its row")
			}
			require.Equal(t, c.pages > 1, strings.Contains(text, fmt.Sprintf(", page %d of %d\n", c.pages, c.pages)))
		})
	}
}

// Whatever people are called and did, the page is a page.
func TestClassPagesOfAnyone(t *testing.T) {
	label := rapid.String().Filter(func(s string) bool { return schedule.CheckName(s) == nil })
	count := rapid.IntRange(0, 9999)
	rapid.Check(t, func(t *rapid.T) {
		l := class.Lesson{Day: time.Date(2024, time.September, 25, 0, 0, 0, 0, time.UTC)}
		who := people{}
		for n := range rapid.IntRange(1, 70).Draw(t, "hands") {
			id := growthID(3, n)
			who[id] = rapid.OneOf(rapid.Just(""), label).Draw(t, "label")
			few := rapid.IntRange(0, 99).Draw(t, "few")
			l.Rows = append(l.Rows, class.Row{Hand: id, Counts: class.Counts{Pieces: few, Tests: count.Draw(t, "tests"), Courses: 700,
				Springy: few, Open: few, Unjudged: few, Drill: class.Drill{Lessons: few % 14, Asked: few, Off: rapid.Float64Range(-1e5, 1e5).Draw(t, "off")}}})
		}
		called := who.callAll([]class.Lesson{l})
		requirePages(t, lessonPages(l, called))
		names := map[string]bool{}
		for _, r := range l.Rows {
			require.NotEmpty(t, called[r.Hand])
			names[called[r.Hand]] = true
		}
		require.GreaterOrEqual(t, len(names), len(slices.DeleteFunc(slices.Clone(l.Rows), func(r class.Row) bool { return who[r.Hand] != "" })))
	})
}

func TestByName(t *testing.T) {
	order := []string{"2", "10", "kw", "Mb", "student 2", "student 10", "unnamed 1", "unnamed 2", "unnamed 11"}
	var rows []class.Row
	called := people{}
	for n := len(order) - 1; n >= 0; n-- {
		rows = append(rows, class.Row{Hand: growthID(3, n)})
		called[growthID(3, n)] = order[n]
	}
	var got []string
	for _, r := range byName(rows, called) {
		got = append(got, called[r.Hand])
	}
	require.Equal(t, order, got)
}

func TestFittedName(t *testing.T) {
	for name, want := range map[string]string{"kw": "kw", "fourteen14char": "fourteen14char", "fifteen15letter": "fiftee…5letter",
		"student number 1": "studen…umber 1", "銀銀銀銀銀銀銀銀": "銀銀銀…銀銀銀"} {
		require.Equal(t, want, fittedName(name, 14))
	}
}
