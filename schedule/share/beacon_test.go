package share

import (
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// sentences are all that can be said: no age is below 0.
var sentences = regexp.MustCompile(`^((shared at|alone since) ([A-Z][a-z]{2} |-?\d{3,5}-\d\d-\d\d )?\d\d:\d\d|shared (just now|\d+ (s|min|h|days) ago))?$`)

// FuzzBeacon: a beacon that is read says one thing in one short line, or nothing; of one
// that is damaged nothing is believed.
func FuzzBeacon(f *testing.F) {
	for _, seed := range []string{`{"shared":"2031-03-05T18:30:00Z"}`, `{"alone_since":"2031-03-05T18:30:00+99:99","why":"x"}`, `{"shared":"9999-12-31T23:59:59.999999999Z"}`,
		`{"shared":"0000-01-01T00:00:00Z","why":"\u001b[31m"}`, `[]`, `null`, `{"shared":1}`, "\x00", `{"alone_since":"0001-01-01T00:00:01Z"}`} {
		f.Add([]byte(seed), int64(0))
	}
	f.Fuzz(func(t *testing.T, text []byte, later int64) {
		s, err := parseBeacon(text)
		if err != nil {
			require.Zero(t, s)
			return
		}
		now := time.Date(2031, 3, 5, 18, 30, 0, 0, time.UTC).Add(time.Duration(later))
		words := s.Words(now)
		require.Regexp(t, sentences, words)
		require.Equal(t, words != "", s.Stays(now) > 0, "what is said is looked at again: %q", words)
	})
}
