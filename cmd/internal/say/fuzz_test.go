package say_test

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/say"
)

// FuzzClean: whatever it was, it is one line that a terminal shows and does not obey, clean
// text stays, and JSON is as harmless and still the same value.
func FuzzClean(f *testing.F) {
	for _, seed := range []string{"spoon", "\x1b]52;c;eA==\a", "\u009b31m", "\u202eab\u2066", "a\u2028b\u2029c\u0085d\re\nf", "\xff\xc2", "\U000e0041\u00ad\ufeff", "\\u001b\x7f"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := say.Clean(text)
		require.True(t, utf8.ValidString(got))
		require.False(t, strings.ContainsFunc(got, unseen), "%q", got)
		require.Equal(t, got, say.Clean(got))
		if utf8.ValidString(text) && !strings.ContainsFunc(text, unseen) {
			require.Equal(t, text, got)
		}
		object, err := say.JSON(text, "")
		require.NoError(t, err)
		require.False(t, strings.ContainsFunc(strings.TrimSuffix(string(object), "\n"), unseen), "%q", object)
		var back string
		require.NoError(t, json.Unmarshal(object, &back))
		require.Equal(t, string([]rune(text)), back, "each byte that is no letter is one sign")
	})
}

func unseen(r rune) bool { return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) }
