//go:build system

package heat

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// colordObserver is the CIE 1931 table of the Debian package colord-data.
const colordObserver = "/usr/share/colord/cmf/CIE1931-2deg-XYZ.cmf"

// bands is the text of three lines of figures, for x, y and z.
var bands = regexp.MustCompile(`(?s)\nBEGIN_DATA\n(.*)\nEND_DATA`)

// TestSystemObserver holds every figure of the table against another copy of it.
//
// Outside check (reference): colord-data: every figure of the CIE 1931 2-degree observer from
// 360 to 830 nm in steps of 5 nm, against another copy of the table.
func TestSystemObserver(t *testing.T) {
	text, err := os.ReadFile(colordObserver)
	require.NoError(t, err, "the other copy of the CIE 1931 table is missing: install the Debian package colord-data")
	data := bands.FindStringSubmatch(strings.ReplaceAll(string(text), "\r\n", "\n"))
	require.NotNil(t, data, "%s holds no data", colordObserver)
	require.Contains(t, string(text), "SPECTRAL_START_NM\t360.0")
	require.Contains(t, string(text), "SPECTRAL_END_NM\t830.0")
	lines := strings.Split(data[1], "\n")
	require.Len(t, lines, 3)
	for i, line := range lines {
		fields := strings.Fields(line)
		require.Len(t, fields, 95)
		for j, m := range observerTable() {
			want, err := strconv.ParseFloat(fields[j], 64)
			require.NoError(t, err)
			require.Equal(t, want, [3]float64{m.x, m.y, m.z}[i], "%s bar at %d nm", "xyz"[i:i+1], 360+5*j)
		}
	}
}
