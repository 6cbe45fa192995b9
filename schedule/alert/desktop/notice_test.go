package desktop

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/gen2brain/beeep"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestClean(t *testing.T) {
	cases := []struct{ name, text, want, reason string }{
		{"plain", "piece 3: soak is over", "piece 3: soak is over", "as it is"},
		{"accents", "é ö 銅 α", "é ö 銅 α", "people write their language"},
		{"ampersand", "cups&bowls", "cups and bowls", "a bare & spoils the whole body on some desktops"},
		{"entity", "&lt;", "and lt;", "an entity is not shown as its sign"},
		{"tags", `<b>hot</b> <a href="x">`, `(b)hot(/b) (a href="x")`, "never markup"},
		{"comparison", "5 < 6 > 4", "5 ( 6 ) 4", "a bare < is no tag but spoils the body"},
		{"script", "$(rm) `rm`", "(rm) 'rm'", "a Windows script would run it"},
		{"lines", "one\r\ntwo\tthree\u2028four", "one two three four", "one line"},
		{"controls", "a\x00b\x1b[31mc\x7f\u009b", "a b [31mc", "D-Bus refuses NUL, terminals obey the others"},
		{"direction", "a\u202eb\u2066c\u200bd\ufeff", "abcd", "not seen, and turns the rest around"},
		{"private use", "a\ue000b", "ab", "no font agrees on it"},
		{"invalid", "a\xffb\xe9", "a\ufffdb\ufffd", "D-Bus refuses invalid UTF-8"},
		{"option", "--help", "help", "notify-send would take it for an option"},
		{"hidden option", "\u200b - -u", "u", "whatever stands before the dash"},
		{"dash within", "work-hard", "work-hard", "only the first place matters"},
		{"just fits", "1234567890", "1234567890", "ten letters"},
		{"long", "12345678901", "1234567...", "shows that it was cut"},
		{"nothing", " \n\x00", "", "nothing left"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			most := 40
			if strings.HasPrefix(c.text, "123") {
				most = 10
			}
			require.Equal(t, c.want, clean(c.text, most), c.reason)
		})
	}
}

func TestCleanNotice(t *testing.T) {
	n := Notice{Title: "--", Body: strings.Repeat("ä", 400), Urgent: true}.clean()
	require.Equal(t, "dullred", n.Title, "a notice has a title")
	require.Equal(t, strings.Repeat("ä", 297)+"...", n.Body)
	require.True(t, n.Urgent)
	require.Equal(t, "dullred", beeep.AppName)
}

// Whatever was typed, the text is fit for every way a notice can take.
func TestCleanIsSafe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.RuneFrom([]rune("-&<>$` \n\x00\u202eaé"))),
			rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(t, "text")
		got := clean(text, mostTitle)
		require.True(t, utf8.ValidString(got))
		require.LessOrEqual(t, utf8.RuneCountInString(got), mostTitle)
		require.False(t, strings.HasPrefix(got, "-"))
		require.False(t, strings.ContainsAny(got, "&<>$`"))
		require.False(t, strings.ContainsFunc(got, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }))
		require.Equal(t, got, clean(got, mostTitle), "clean text is left alone")
	})
}
