package trial

import (
	"fmt"
	"math"
	"strings"
)

// The picture: heats across, splits per thousand upwards on a logarithmic scale.
const (
	plotWide, plotHigh = 60, 18
	plotLeast          = 2.   // splits per thousand at the bottom
	plotMost           = 300. // and at the top
)

// plotted are the policies of the picture and their letters.
var plotted = []struct {
	letter byte
	name   string
}{{'m', Measured}, {'s', Stranger}, {'t', Ten}, {'h', Hundred}, {'L', To45Loose}, {'k', TrueLaw}}

// Plot is the same as a picture for a terminal, in plain letters, 69 columns wide.
// It is empty for the zero Result.
func (r Result) Plot() string {
	if len(r.Policies) == 0 {
		return ""
	}
	rows := make([][]byte, plotHigh)
	for i := range rows {
		rows[i] = []byte(strings.Repeat(" ", plotWide))
	}
	from, to := r.Shop.From-0.5, r.Shop.To+0.5
	for _, p := range plotted {
		for x := range plotWide {
			split, ok := r.Policy(p.name).At(from + (to-from)*float64(x)/(plotWide-1))
			if y := heightOf(split); ok && y >= 0 && y < plotHigh {
				rows[plotHigh-1-y][x] = p.letter
			}
		}
	}
	var b strings.Builder
	b.WriteString("split per 1,000\n")
	for i, row := range rows {
		fmt.Fprintf(&b, "%6.0f |%s\n", splitAt(plotHigh-1-i), strings.TrimRight(string(row), " "))
	}
	fmt.Fprintf(&b, "       +%s\n        %-6.1f%*.1f heats\n", strings.Repeat("-", plotWide), from, plotWide-12, to)
	for _, p := range plotted {
		fmt.Fprintf(&b, "  %c  %s\n", p.letter, p.name)
	}
	return b.String()
}

// heightOf is the line, from the bottom, of a number of splits; it may lie outside.
func heightOf(split float64) int {
	if split <= 0 {
		return -1
	}
	return int(math.Round((plotHigh - 1) * math.Log(split/plotLeast) / math.Log(plotMost/plotLeast)))
}

// splitAt is the number of splits of a line.
func splitAt(y int) float64 {
	return plotLeast * math.Pow(plotMost/plotLeast, float64(y)/(plotHigh-1))
}
