package stock

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// By hand: 18 mm are 7.2 rows, and the seventh begins where the width is 15 mm,
// at 71 mm or column 14.
func TestDrawingInLetters(t *testing.T) {
	s := mustShape(t, "0:6x3 95:18x3 190:6x3 tang:2x40@end")
	require.Equal(t, strings.TrimPrefix(`
190 mm long; 1 column is 5 mm; drawn 4 times larger across
from above (width)
              ##########
      ##########################
######################################
######################################--------
######################################
      ##########################
              ##########
from the side (thickness)
######################################--------
0                  95                 190 mm
6x3                18x3               6x3`, "\n"), strings.Join(Drawing{Columns: 46, ASCII: true}.Lines(s), "\n"))
}

// By hand: 6 mm are 15 half rows, and 3 mm 7 of the odd ones, 4 from the top.
func TestDrawingInBlocks(t *testing.T) {
	s := mustShape(t, "0:6 round 60:6 round 60:3 round 120:3 round tang:2x40@0")
	require.Equal(t, strings.TrimPrefix(`
120 mm long; 1 column is 4 mm; drawn 10 times larger across
from above (width)
          ███████████████
          ███████████████
          ██████████████████████████████
──────────██████████████████████████████
          ██████████████████████████████
          ███████████████▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀
          ███████████████
          ▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀`, "\n"), strings.Join(Drawing{Columns: 40}.Lines(s)[:10], "\n"))
}

// Every drawing keeps to its columns, is in letters where that is asked for, and
// is as large as its scale says: the body of the piece to a column.
func TestDrawingsKeepToTheirScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShape(t)
		d := Drawing{Columns: rapid.IntRange(40, 120).Draw(t, "columns"), ASCII: rapid.Bool().Draw(t, "ascii")}
		lines := d.Lines(s)
		require.LessOrEqual(t, len(lines), 5+2*(highest+1))
		p := d.layOut(s)
		body := float64(s.Length() / p.perColumn)
		for _, line := range lines[1 : len(lines)-2] {
			require.LessOrEqual(t, utf8.RuneCountInString(line), d.Columns+1)
			if d.ASCII {
				require.NotContains(t, line, "█")
				require.Len(t, line, utf8.RuneCountInString(line), "ASCII alone")
			}
		}
		widest := 0
		for _, line := range lines {
			widest = max(widest, strings.Count(line, p.pencil.all)+strings.Count(line, "▀")+strings.Count(line, "▄"))
		}
		require.InDelta(t, max(1, body), float64(widest), 1.01)
	})
}

func TestNothingIsNotDrawn(t *testing.T) {
	require.Empty(t, Drawing{}.Lines(Shape{}))
}

func TestAgainst(t *testing.T) {
	near, drawn := Effort{4, 90 * time.Minute}, Effort{7, 3 * time.Hour}
	require.Equal(t, "cast near the shape: 4 heats, 1.5 h; from stock bar: 7 heats, 3.0 h", near.Against(drawn))
}
