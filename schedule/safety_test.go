package schedule_test

import (
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/heat"
)

const (
	sourcesHeading = "\n## Sources\n"
	fromMemory     = "(from memory)"
	widest         = 80 // columns of the narrowest terminal the text is shown in
)

var (
	citation  = regexp.MustCompile(`\[(\d+)\]`)
	sourceRow = regexp.MustCompile(`(?m)^- \[(\d+)\] \S`)
	earRow    = regexp.MustCompile(`(?m)^ +(\d+) dB\(A\) +(\d+) (h|min) `)
)

// safetyParts is the text before the list of sources, and that list.
func safetyParts(t *testing.T) (body, sources string) {
	t.Helper()
	body, sources, found := strings.Cut(schedule.Safety(), sourcesHeading)
	require.True(t, found, "the text ends with its sources")
	return body, sources
}

// numbersOf are the numbers the pattern finds in a text, in order.
func numbersOf(pattern *regexp.Regexp, text string) []int {
	var out []int
	for _, m := range pattern.FindAllStringSubmatch(text, -1) {
		n, _ := strconv.Atoi(m[1])
		out = append(out, n)
	}
	return out
}

// unsourced reports whether a line prints a figure and says neither where it
// comes from, out of the sources listed, nor that it is remembered.
func unsourced(line string, listed []int) bool {
	if !strings.ContainsFunc(citation.ReplaceAllString(line, ""), unicode.IsDigit) {
		return false
	}
	cited := slices.ContainsFunc(numbersOf(citation, line), func(n int) bool { return slices.Contains(listed, n) })
	return !cited && !strings.Contains(line, fromMemory)
}

func TestSafetyIsPrintedInTheTree(t *testing.T) {
	printed, err := os.ReadFile("../SAFETY.md")
	require.NoError(t, err)
	require.Equal(t, schedule.Safety(), string(printed), "SAFETY.md is a copy of schedule/safety.md")
	require.True(t, strings.HasSuffix(schedule.Safety(), "\n"), "the prompt after the text begins on its own line")
}

func TestSafetyBeginsWithWhoComesFirst(t *testing.T) {
	first, rest, _ := strings.Cut(schedule.Safety(), "\n")
	require.Regexp(t, `local codes and licensed practice come first`, first)
	opening, _, _ := strings.Cut(strings.TrimSpace(rest), "\n\n")
	opening = strings.Join(strings.Fields(opening), " ")
	require.Regexp(t, `^Local codes and licensed or qualified practice come first; so do makers' data sheets\.`, opening)
	require.Contains(t, opening, "dullred is a reminder, never a guard; it measures nothing.")
}

// Outside check (standard): the floor of the fire watch, 29 CFR 1910.252, and the cautions
// that must not be lost.
func TestSafetySaysPlainly(t *testing.T) {
	body, _ := safetyParts(t)
	text := strings.Join(strings.Fields(body), " ")
	for _, c := range []struct{ name, words, reason string }{
		{"no sensor", "It does not sense temperature.", "a heat told to the program is not a heat measured"},
		{"a model", "The budget is a model", "a split before the limit is possible"},
		{"wrong metal", "A wrong metal name gives wrong advice.", "the name picks every figure"},
		{"telephone", "Put the torch down and out, then answer.", "the commonest cause of a ruined heat"},
		{"fire watch", "Watch for 60 minutes after the last flame", "the longer of the two published times"},
		{"fire watch floor", "The floor in US law is 30 minutes", "29 CFR 1910.252"},
		{"black heat", "Black metal burns.", "burns at the bench come from metal that no longer glows"},
		{"acid", "Add acid to water. Never water to acid", "the other order throws acid"},
		{"cadmium", "Cadmium (old low-melting silver solder): do not use it.", "it gives little warning"},
		{"children", "Children: under 12, no metal jewellery work", "McCann and others"},
		{"burn", "cool running water at once, for 20 minutes", "burns first aid"},
		{"copper", "No long yellow or sooty flame", "hydrogen cracks copper that holds oxygen"},
		{"alcohol", "Torch out, bottle shut and away, before the jar opens.", "its vapour lights below room temperature"},
		{"oven is hot", "nothing glows. Take all in it as hot.", "ageing heat is far below the first red"},
		{"oven is dry", "Only dry, open pieces.", "water that is shut in bursts a piece"},
		{"oven and food", "Not the kitchen oven, nor any that cooks food again", "metal and flux stay in it"},
		{"left behind", "Count them out, count them in.", "a black piece on the hearth is hot"},
		{"lead of the probe", "Burnt: air the room, new lead.", "its cover gives poisonous fume"},
		{"laptop", "Laptop on its battery, not the mains", "the bead may be joined to the computer"},
		{"pickle", "Warm, never boiling", "boiling throws acid mist"},
		{"quench in pickle", "Never quench hot metal in pickle", "spray, mist and rust"},
		{"cadmium begins", "fumes in air once above 320 °C, where it melts", "every silver anneal is hotter"},
		{"bead", "A probe tells it how hot the bead is. That may not be the metal.", "a loose bead reads something else"},
		{"estimates", "Its times, temperatures and colours are estimates", "published figures disagree"},
		{"HOT", "HOT never clears by the clock.", "no time proves that metal is cool"},
		{"embers", "A bed that looks dead gives it off for hours yet.", "people have died beside cold-looking charcoal"},
	} {
		t.Run(c.name, func(t *testing.T) { require.Contains(t, text, c.words, c.reason) })
	}
}

func TestSafetyFiguresHaveSources(t *testing.T) {
	body, sources := safetyParts(t)
	listed := numbersOf(sourceRow, sources)
	figures := 0
	for i, line := range strings.Split(body, "\n") {
		require.False(t, unsourced(line, listed), "line %d prints a figure without its source: %q", i+1, line)
		if strings.ContainsFunc(citation.ReplaceAllString(line, ""), unicode.IsDigit) {
			figures++
		}
	}
	require.Greater(t, figures, 40, "the text has figures to check")
}

func TestUnsourcedCanTell(t *testing.T) {
	for _, c := range []struct {
		name, line string
		want       bool
		reason     string
	}{
		{"bare figure", "Watch for 60 minutes.", true, "no source at all"},
		{"unknown source", "Watch for 60 minutes [9].", true, "nine is not in the list"},
		{"sourced", "Watch for 60 minutes [2].", false, "two is in the list"},
		{"remembered", "Shade 2 passes 37 % (from memory).", false, "it says so"},
		{"no figure", "Never walk away from a lit torch.", false, "nothing to prove"},
		{"only a citation", "Never in a tent [1].", false, "the bracket is no figure"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, unsourced(c.line, []int{1, 2}), c.reason)
		})
	}
}

func TestSafetySourcesAreNumberedAndUsed(t *testing.T) {
	body, sources := safetyParts(t)
	listed := numbersOf(sourceRow, sources)
	require.NotEmpty(t, listed)
	for i, n := range listed {
		require.Equal(t, i+1, n, "the list counts from one without a gap")
	}
	var firstUses []int
	for _, n := range numbersOf(citation, body) {
		if !slices.Contains(firstUses, n) {
			firstUses = append(firstUses, n)
		}
	}
	require.Equal(t, listed, firstUses, "every source is used, every citation is listed, in order of first use")
}

func TestSafetyFitsTheTerminal(t *testing.T) {
	for i, line := range strings.Split(schedule.Safety(), "\n") {
		require.LessOrEqual(t, utf8.RuneCountInString(line), widest, "line %d: %q", i+1, line)
		require.Equal(t, strings.TrimRight(line, " \t"), line, "line %d ends in blanks", i+1)
	}
}

// TestSafetyEarTimes holds the printed times against the formula printed above
// them, T = 480/2^((L-85)/3) minutes.
//
// Outside check (standard): minutes of noise a day, the formula of NIOSH.
func TestSafetyEarTimes(t *testing.T) {
	body, _ := safetyParts(t)
	rows := earRow.FindAllStringSubmatch(body, -1)
	require.Len(t, rows, 6)
	for _, row := range rows {
		level, err := strconv.ParseFloat(row[1], 64)
		require.NoError(t, err)
		printed, err := time.ParseDuration(row[2] + row[3][:1])
		require.NoError(t, err)
		require.InDelta(t, earMinutes(level), printed.Minutes(), 0.5, "%s dB(A)", row[1])
	}
	require.Contains(t, body, "114 dB(A) leaves about 35 seconds")
	require.InDelta(t, 35, 60*earMinutes(114), 0.5)
}

// TestSafetyCelsius holds the temperatures whose sources print °F against them.
//
// Outside check (handbook): temperatures of the safety text against those its sources print in
// °F.
func TestSafetyCelsius(t *testing.T) {
	body, _ := safetyParts(t)
	text := strings.Join(strings.Fields(body), " ")
	for _, c := range []struct {
		words               string
		printed, fahrenheit float64
		reason              string
	}{
		{"vapour lights from about 13 °C", 13, 55, "flash point, CAMEO Chemicals"},
		{"by itself at about 363 °C", 363, 685, "ignition, Fire Engineering"},
		{"quenches near 480 °C", 480, 900, "about 900 °F, Ganoksin forum 19065"},
		{"begins at about 370 °C", 370, 700, "Industrial Heating, which prints both"},
		{"rots it above 815 °C", 815, 1500, "Thermal Processing, which prints both"},
		{"use at 343 to 593 °C", 343, 650, "TE Wire & Cable, the lower end"},
		{"343 to 593 °C makes", 593, 1100, "TE Wire & Cable, the upper end"},
		{"3 °C at 538 °C", 538, 1000, "TE Wire & Cable, where the drift was read"},
	} {
		t.Run(c.words, func(t *testing.T) {
			require.Contains(t, c.words, strconv.FormatFloat(c.printed, 'f', -1, 64))
			require.Contains(t, text, c.words, c.reason)
			require.InDelta(t, (c.fahrenheit-32)/1.8, c.printed, 2.5, "%s, rounded to 5 °C at most", c.reason)
		})
	}
}

// TestSafetyShades holds the printed shares of light against the formula that the
// colours of the program use.
//
// Outside check (handbook): shares of light of the filter shades in the safety text.
func TestSafetyShades(t *testing.T) {
	body, _ := safetyParts(t)
	require.Contains(t, body, "Shade 2 passes about 37 % of the light, shade 3 about 14 %")
	require.InDelta(t, 37, 100*heat.Transmittance(2), 0.5)
	require.InDelta(t, 14, 100*heat.Transmittance(3), 0.5)
}

// earMinutes is the daily time NIOSH allows at a level in dB(A).
func earMinutes(level float64) float64 { return 480 / math.Exp2((level-85)/3) }
