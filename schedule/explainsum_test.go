package schedule_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

var resultOf = regexp.MustCompile(`^\s*([-+]?[0-9]+(?:\.([0-9]+))?)( %)?`)

// requireRedone does every sum of a text again. A strain may differ by one in its last
// digit, a percentage and a number of courses not at all. It gives the number of sums.
func requireRedone(t require.TestingT, w schedule.Why) (n int) {
	parts := strings.Split(w.Text, " = ")
	for i := 1; i < len(parts); i++ {
		sum, isSum := sumIn(parts[i-1])
		result := resultOf.FindStringSubmatch(parts[i])
		if !isSum || result == nil || strings.HasPrefix(strings.TrimSpace(parts[i][len(result[0]):]), "/ ") {
			continue
		}
		value, err := calculate(sum)
		require.NoError(t, err, "%s: %s", w.Head, w.Text)
		n++
		decimals := len(result[2])
		if result[3] != "" {
			value *= 100
		}
		if result[3] != "" || w.Head == "left" {
			require.Equal(t, result[1], strconv.FormatFloat(value, 'f', decimals, 64), "%s: %s", w.Head, w.Text)
			continue
		}
		want, err := strconv.ParseFloat(result[1], 64)
		require.NoError(t, err)
		require.InDelta(t, want, value, 1.01*math.Pow10(-decimals), "%s: %s", w.Head, w.Text)
	}
	return n
}

var lastNumber = regexp.MustCompile(`= ([0-9.]+)`)

// strainOf is what a line adds to the total, as printed.
func strainOf(t require.TestingT, w schedule.Why) float64 {
	text := w.Text
	if strings.HasSuffix(text, ": no change") || w.Head == "trim" {
		return 0
	}
	found := lastNumber.FindAllStringSubmatch(text, -1)
	if w.Head == "apart" {
		return number(t, text[strings.LastIndex(text, " ")+1:])
	}
	require.NotEmpty(t, found, w.Text)
	return number(t, found[len(found)-1][1])
}

func number(t require.TestingT, text string) float64 {
	f, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return f
}

var addends = map[string]bool{"step": true, "trim": true, "bend": true, "twist": true, "hidden": true, "unread": true, "apart": true}

// requireAgrees checks that the printed figures are those of the advice, and that
// adding the printed strains lands on them.
func requireAgrees(t require.TestingT, e schedule.Explanation, a schedule.ZoneAdvice) {
	sum, terms := 0.0, 0
	for _, l := range e.Lines {
		requireRedone(t, l)
		if addends[l.Head] {
			sum, terms = sum+strainOf(t, l), terms+1
		}
	}
	total := lines(e, "total")[0]
	text := total[strings.LastIndex(total, " ")+1:]
	_, fraction, _ := strings.Cut(text, ".")
	d := len(fraction)
	require.Equal(t, strconv.FormatFloat(float64(a.Done.Strain), 'f', d, 64), text)
	require.InDelta(t, number(t, text), sum, 0.51*float64(terms+1)*math.Pow10(-d), "the printed strains add up: %+v", e.Lines)
	requirePercent(t, lines(e, "rolled")[0], 100*float64(a.Worked()), 1)
	require.Contains(t, lines(e, "verdict")[0], a.Verdict.String()+": ")
	if !a.Limit.Known() {
		require.Empty(t, lines(e, "share"))
		require.Empty(t, lines(e, "left"))
		return
	}
	require.True(t, strings.HasSuffix(lines(e, "limit")[0], " = "+strconv.FormatFloat(float64(a.Limit.Strain), 'f', d, 64)))
	k := requirePercent(t, lines(e, "share")[0], 100*a.Spent, 0)
	require.Equal(t, fmt.Sprintf("%.*f", k, 100*a.Spent), fmt.Sprintf("%.*f", k, 100*sum/number(t, fmt.Sprintf("%.*f", d, a.Limit.Strain))),
		"the student who adds the printed strains")
	requireCourses(t, e, a)
}

var percentage = regexp.MustCompile(`= ([0-9]+(?:\.([0-9]+))?) %`)

// requirePercent checks that a percentage is printed with the decimals that the
// advice prints, or with more where it lies in the middle of two. It gives their number.
func requirePercent(t require.TestingT, text string, want float64, usual int) int {
	found := percentage.FindStringSubmatch(text)
	require.NotNil(t, found, text)
	k := len(found[2])
	require.Equal(t, strconv.FormatFloat(want, 'f', k, 64), found[1])
	if k > usual {
		steps := want * math.Pow10(usual)
		require.InDelta(t, 0.5, steps-math.Floor(steps), 1e-4, "%s: only a tie has more decimals", text)
	}
	require.GreaterOrEqual(t, k, usual)
	return k
}

func requireCourses(t require.TestingT, e schedule.Explanation, a schedule.ZoneAdvice) {
	if a.Done.Strain >= a.Limit.Strain {
		require.Equal(t, []string{"the limit is reached: no course is left"}, lines(e, "left"))
		return
	}
	c := a.Courses
	r := lines(e, "range")[0]
	require.Contains(t, r, fmt.Sprintf("likely %d (", c.Likely))
	require.Contains(t, r, fmt.Sprintf("at least %d with", c.Low))
	require.Contains(t, r, fmt.Sprintf("more than %d only", c.High))
	chance := regexp.MustCompile(`chance of (under )?([0-9.]+) %`).FindStringSubmatch(lines(e, "chance")[0])
	require.NotNil(t, chance)
	require.InDelta(t, 100*c.NextCrosses, number(t, chance[2]), 1.0)
	if chance[1] == "" {
		require.Equal(t, c.NextCrosses >= 0.10, number(t, chance[2]) >= 10, "the printed chance lies on the side the verdict stands on")
	}
}

// Every figure of the explanation is that of the advice, and every sum of it comes
// out when it is done again with the printed figures.
func TestTheSumCanBeRedone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.OneOf(history, anyShape).Draw(t, "history")
		s, a := h.state(), h.advice()
		if len(s.Silenced) > 0 {
			e := h.explained("")
			require.Empty(t, e.Zone)
			require.Equal(t, s.Silenced, lines(e, "unknown"))
			return
		}
		for _, za := range append(a.Zones, a.ZoneAdvice) {
			e := h.explained(za.Zone)
			require.Equal(t, za.Zone, e.Zone)
			require.Empty(t, lines(e, "apart"), "with its entries every bend and twist has a line")
			requireAgrees(t, e, za)
			lump := s.Explain(za.Zone, nil)
			require.LessOrEqual(t, len(lines(lump, "apart")), 1)
			requireAgrees(t, lump, za)
			requirePicture(t, e.Picture)
		}
		require.Equal(t, a.Zone, h.explained("").Zone, "without a name the zone that decides")
	})
}

// anyShape is the life of a piece of any shape and metal, with readings that go down.
var anyShape = rapid.Custom(func(t *rapid.T) story {
	metal := rapid.SampledFrom(alloys.All()).Draw(t, "alloy")
	begun := schedule.Started{Alloy: string(metal.ID), Calliper: 0.1, Cast: rapid.Bool().Draw(t, "cast"),
		Limit: rapid.SampledFrom([]string{"", "", "50%", "33.3% area", "12.5%"}).Draw(t, "limit")}
	shape := rapid.SampledFrom([]string{"sheet", "vessel", "wire", "tube", "ring"}).Draw(t, "shape")
	side := rapid.Map(rapid.Float64Range(0.5, 1), func(f float64) unit.Millimetre { return unit.Millimetre(math.Round(f*1000) / 1000) })
	reading := func(name string) schedule.Reading {
		k, l := side.Draw(t, name+" k"), side.Draw(t, name+" l")
		switch shape {
		case "sheet":
			return sheet(1.5 * k)
		case "vessel":
			return vessel(1.2*l, 150*k)
		case "wire":
			return wire(6 * k)
		case "tube":
			return size(unit.Tube, unit.Size{Diameter: 12 * k, Thick: 2 * l})
		}
		return schedule.Reading{Size: ringBand(60*l, 4*k, 8*l)}
	}
	begun.Reading = reading("start")
	h := start(begun)
	for i := range rapid.IntRange(0, 8).Draw(t, "entries") {
		name := fmt.Sprint("entry ", i)
		process := rapid.SampledFrom([]coldwork.Process{coldwork.Lengthen, coldwork.Raise, coldwork.Draw, coldwork.Planish}).Draw(t, name+" process")
		bodies := []schedule.Body{unread(process, rapid.IntRange(1, 30).Draw(t, name+" count")), course(process, reading(name)), course(process, reading(name)),
			schedule.Filed{Reading: reading(name)}, schedule.Pass{Process: coldwork.Bending, Count: 2, Radius: 20}, schedule.Begun{}, schedule.Quenched{}, schedule.Soft{}}
		h = h.then(rapid.SampledFrom(bodies).Draw(t, name))
	}
	return h
})

func requirePicture(t require.TestingT, picture []string) {
	require.LessOrEqual(t, len(picture), 12)
	for _, row := range picture {
		require.Regexp(t, `^[ -~]{0,64}$`, row)
	}
}
