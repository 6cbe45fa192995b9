package probe

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// judged is what lines that come once each second bring.
func judged(lines ...string) (words []string, noise int) {
	var j judge
	at := time.Date(2024, 3, 5, 18, 0, 0, 0, time.UTC)
	for i, l := range lines {
		events, _ := j.take(heard{at: at.Add(time.Duration(i) * time.Second), text: l})
		for _, e := range events {
			words = append(words, strings.TrimSuffix(word(e), " °C"))
		}
	}
	j.drop()
	return words, j.noise
}

func TestJudge(t *testing.T) {
	cases := []struct {
		name, lines, want string
		noise             int
		reason            string
	}{
		{"calm", "650 651 649", "650 651 649", 0, "as they come"},
		{"spike", "650 1300 651", "650 651", 1, "one wrong figure is left out"},
		{"plunge", "20 900 910", "20 900 910", 0, "the second agrees, and the first is late but not lost"},
		{"quick plunge", "20 700 900 950", "20 900 950", 1, "700 and 900 do not agree, 900 and 950 do"},
		{"drop", "900 20 21", "900 20 21", 0, "out of the fire"},
		{"just not a jump", "20 520", "20 520", 0, "500 K is no jump"},
		{"spike at the end", "650 1300", "650", 1, "nothing agreed with it"},
		{"first is wrong", "1300 650 651", "1300 650 651", 0, "nothing says which of the two is"},
		{"two spikes", "650 1300 1700 651", "650 651", 2, "they do not agree with each other"},
		{"fault", "650 OPEN OPEN 9999 651 1372", "650 fault,OPEN 651 fault,1372", 0, "told once until a reading"},
		{"fault in a jump", "20 900 OPEN 910 911", "20 fault,OPEN 910 911", 1, "what a fault follows is not believed"},
		{"labels", "T1=650 T2=23 T1=651", "650 651", 1, "the first label is followed"},
		{"scales", "C=650 F=1202 C=651", "650 651", 1, "one line for each scale"},
		{"greeting", "Version:12 Ready T=650", "650", 2, "it is not the label that is followed"},
		{"board", "Internal-Temp=23.5 C=650", "650", 1, "the temperature of the board is none"},
		{"case", "t=650 T=651", "650 651", 0, "small letters and large"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got, noise := judged(strings.Fields(c.lines)...)
			require.Equal(t, c.want, strings.ReplaceAll(strings.Join(got, " "), "fault ", "fault,"), c.reason)
			require.Equal(t, c.noise, noise, c.reason)
		})
	}
}

func TestAFaultThatComesAndGoesIsToldOncePerSecond(t *testing.T) {
	var j judge
	faults, at := 0, time.Date(2024, 3, 5, 18, 0, 0, 0, time.UTC)
	for i := range 100 {
		text := []string{"650", "OPEN"}[i%2]
		events, talks := j.take(heard{at: at.Add(time.Duration(i) * 20 * time.Millisecond), text: text})
		require.True(t, talks)
		for _, e := range events {
			if _, ok := e.(Fault); ok {
				faults++
			}
		}
	}
	require.Equal(t, 2, faults, "two seconds")
}

func TestJumpsThatNeverAgreeAreSilence(t *testing.T) {
	var j judge
	for i, text := range []string{"20", "700", "1300", "700", "1300"} {
		_, talks := j.take(heard{at: time.Unix(int64(i), 0), text: text})
		require.Equal(t, i == 0, talks, "the figure on the screen would be an old one")
	}
}
