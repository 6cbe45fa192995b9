package schedule_test

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

// FuzzWords reads a text as each of the words that people type: a sign, the state of the
// bath, a process, a light, a surface, and a name. A word that is read is one of those
// that are known and reads back to itself; what is not is refused in one line that
// begins with the text.
func FuzzWords(f *testing.F) {
	for _, seed := range []string{"rings", "SPR", "fresh", "Spent", "lengthen", " Raise ", "dim", "lamp", "oxidised", "bench lamp", "", " ", "\x1b[31m", "\u202e", "\xff", "\u0130", "\u212a", "daylight\n"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		word(t, text, schedule.ParseSign, schedule.Signs())
		word(t, text, schedule.ParseBath, schedule.BathStates())
		word(t, text, coldwork.ParseProcess, coldwork.Processes())
		word(t, text, heat.ParseLight, heat.Lights())
		word(t, text, heat.ParseSurface, nil)
		if err := schedule.CheckName(text); err != nil {
			requireOneLine(t, err)
			return
		}
		require.Equal(t, strings.TrimSpace(text), text)
		require.False(t, strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }))
	})
}

// word reads a text by one parser; of nil known ones any is.
func word[T ~string](t *testing.T, text string, parse func(string) (T, error), known []T) {
	got, err := parse(text)
	if err != nil {
		requireOneLine(t, err)
		start := string([]rune(text)[:min(utf8.RuneCountInString(text), 5)])
		require.True(t, !utf8.ValidString(text) || strings.HasPrefix(err.Error(), strings.TrimSuffix(strconv.Quote(start), `"`)), "%q", err)
		return
	}
	require.NotEmpty(t, strings.TrimSpace(text), "a blank is no word: %q", got)
	require.True(t, known == nil || slices.Contains(known, got), "%q", got)
	again, err := parse(string(got))
	require.NoError(t, err)
	require.Equal(t, got, again)
}

func requireOneLine(t *testing.T, err error) {
	require.Less(t, strings.IndexFunc(err.Error(), unicode.IsControl), 0, "%q", err)
	require.Less(t, len(err.Error()), 900)
}

// FuzzBodies reads a body as every kind of entry there is: what is read is written to the
// same, by the row and by what it says, and says nothing that is no text; what is not is
// a damaged entry in one line.
func FuzzBodies(f *testing.F) {
	for i, b := range every() {
		r := encode(f, entryAt(i+1, b, "tip"))
		f.Add(r.Body, r.Process, r.Shape, r.Count, r.Thick, r.Width, r.Diameter, r.Temp)
	}
	f.Add(`{"joint":"rim","solder":"hard","margin":-1e300}`, "bend", "round", int64(1), 3.0, 3.0, 3.0, 1e9)
	f.Add(`{"plan":{"steps":[{}],"zones":[]}}`, "", "", int64(0), 0.0, 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, body, process, shape string, count int64, thick, width, diameter, temp float64) {
		for _, b := range every() {
			r := encode(t, entryAt(1, schedule.Soft{}))
			r.Kind, r.Version, r.Body, r.Process, r.Shape, r.Count = string(b.Kind()), 1, body, process, shape, count
			r.Thick, r.Width, r.Diameter, r.Temp = thick, width, diameter, temp
			e, err := schedule.Decode(r)
			if err != nil {
				require.ErrorIs(t, err, schedule.ErrRow)
				continue
			}
			requireSame(t, e, r)
			_ = e.Describe()
			_, err = json.Marshal(e.Body)
			require.NoError(t, err, "no figure in it is NaN or infinite")
		}
	})
}
