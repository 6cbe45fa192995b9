package schedule_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// The published strip of sterling (WREKIN_HV) on an axis of 50 %, 57 steps wide, and
// from 60 to 130 HV, 8 steps high, the places reckoned by hand.
func TestPicture(t *testing.T) {
	e := start(wrought("AG925")).then(course(coldwork.Lengthen, bar(7.2, 7.8))).explained("")
	for _, c := range []struct {
		name, reason string
		row, column  int
		mark         byte
	}{
		{"soft, low end", "66 HV: (130 - 66)/70 x 8 = 7.3; 0 %", 7, 0, 'o'},
		{"soft, high end", "76 HV: 54/70 x 8 = 6.2; 0 %", 6, 0, 'o'},
		{"half hard, low end", "90 HV: 40/70 x 8 = 4.6; 21 %: 0.21/0.5 x 57 = 23.9", 5, 24, 'o'},
		{"hard, high end", "130 HV: the top; 37 %: 42.2", 0, 42, 'o'},
		{"hard, low end", "116 HV: 14/70 x 8 = 1.6; 37 %", 2, 42, 'o'},
		{"between", "25 %: 28.5; nothing is published there", 4, 28, '.'},
		{"the piece", "83 HV about: 47/70 x 8 = 5.4; 11.3 %: 12.9", 5, 13, 'X'},
		{"the piece on the axis", "11.3 %: 12.9", 9, 13, 'X'},
		{"the limit on the axis", "45 %: 51.3", 9, 51, 'L'},
		{"past what is published", "40 %: 45.6", 0, 46, ' '},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			row := fmt.Sprintf("%-64s", e.Picture[1+c.row])
			require.Equal(t, string(c.mark), string(row[6+c.column]), strings.Join(e.Picture, "\n"))
		})
	}
	require.Equal(t, "      0                           25                          50", e.Picture[11])
}

func TestPictureOfNothingPublished(t *testing.T) {
	e := start(schedule.Started{Alloy: "PEWTER", Reading: bar(8, 8), Calliper: 0.1}).explained("")
	require.Empty(t, e.Picture)
	require.Contains(t, lines(e, "hardness")[0], "nothing is published for")
	require.Contains(t, lines(e, "hardness")[0], "nothing is drawn")
}

// Past the last published point the piece stands on the axis alone.
func TestPicturePastItsEnd(t *testing.T) {
	e := start(wrought("AG925")).then(course(coldwork.Lengthen, bar(4.9, 6))).explained("")
	require.Contains(t, lines(e, "hardness")[0], "past what is published: its hardness is not known")
	require.NotContains(t, strings.Join(e.Picture[:10], ""), "X")
	require.Contains(t, e.Picture[10], "X")
}
