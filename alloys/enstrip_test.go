package alloys

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// enTemper is one row of an EN 1652 table: strength in MPa and hardness in HV,
// each the least and the most that is printed, or 0 for what is not.
type enTemper struct {
	name              string
	tensile, hardness [2]float64
}

var enStrip = []struct {
	name, alloy, source, reason string
	tempers                     []enTemper
}{
	{"copper", "C11000", "WIE_C110", "bands that nearly join", []enTemper{
		{"R220", [2]float64{220, 260}, [2]float64{40, 70}}, {"R240", [2]float64{240, 300}, [2]float64{65, 95}},
		{"R290", [2]float64{290, 360}, [2]float64{90, 110}}, {"R360", [2]float64{360, 0}, [2]float64{110, 0}}}},
	{"red brass", "C23000", "AUR_CUZN15", "the bands overlap", []enTemper{
		{"R260", [2]float64{260, 310}, [2]float64{55, 85}}, {"R300", [2]float64{300, 370}, [2]float64{85, 115}},
		{"R350", [2]float64{350, 420}, [2]float64{105, 135}}, {"R410", [2]float64{410, 490}, [2]float64{125, 155}},
		{"R480", [2]float64{480, 0}, [2]float64{150, 0}}}},
	{"cartridge brass", "C26000", "AUR_CUZN30", "six tempers", []enTemper{
		{"R270", [2]float64{270, 350}, [2]float64{55, 90}}, {"R350", [2]float64{350, 430}, [2]float64{95, 125}},
		{"R410", [2]float64{410, 490}, [2]float64{120, 155}}, {"R480", [2]float64{480, 560}, [2]float64{150, 180}},
		{"R550", [2]float64{550, 640}, [2]float64{170, 200}}, {"R630", [2]float64{630, 0}, [2]float64{190, 0}}}},
	{"yellow brass", "C27000", "WIE_CUZN36", "as cartridge brass from R410 on", []enTemper{
		{"R300", [2]float64{300, 370}, [2]float64{55, 95}}, {"R350", [2]float64{350, 440}, [2]float64{95, 125}},
		{"R410", [2]float64{410, 490}, [2]float64{120, 155}}, {"R480", [2]float64{480, 560}, [2]float64{150, 180}},
		{"R550", [2]float64{550, 640}, [2]float64{170, 200}}, {"R630", [2]float64{630, 0}, [2]float64{190, 0}}}},
	{"60/40 brass", "C28000", "KMW_CUZN40", "least figures, and a most for the soft one", []enTemper{
		{"O", [2]float64{275, 0}, [2]float64{0, 85}}, {"HB", [2]float64{420, 0}, [2]float64{100, 0}},
		{"HD", [2]float64{490, 0}, [2]float64{125, 0}}, {"HE", [2]float64{525, 0}, [2]float64{165, 0}}}},
	{"5 % tin bronze", "C51000", "RCI_CUSN5", "no hardness is printed for the last", []enTemper{
		{"O", [2]float64{310, 0}, [2]float64{0, 85}}, {"HA", [2]float64{350, 0}, [2]float64{110, 0}},
		{"HB", [2]float64{495, 0}, [2]float64{160, 0}}, {"HD", [2]float64{570, 0}, [2]float64{180, 0}},
		{"HE", [2]float64{645, 0}, [2]float64{200, 0}}, {"HS", [2]float64{690, 0}, [2]float64{0, 0}}}},
	{"6 % tin bronze", "C51900", "KMW_CUSN6", "soft at most what quarter hard has at least", []enTemper{
		{"O", [2]float64{340, 0}, [2]float64{0, 115}}, {"HA", [2]float64{385, 0}, [2]float64{115, 0}},
		{"HB", [2]float64{525, 0}, [2]float64{170, 0}}, {"HD", [2]float64{620, 0}, [2]float64{200, 0}},
		{"HE", [2]float64{695, 0}, [2]float64{215, 0}}, {"HS", [2]float64{720, 0}, [2]float64{240, 0}}}},
	{"8 % tin bronze", "C52100", "KMW_CUSN8", "two makers disagree on the hardness of the last", []enTemper{
		{"O", [2]float64{345, 0}, [2]float64{0, 100}}, {"HA", [2]float64{405, 0}, [2]float64{125, 0}},
		{"HB", [2]float64{475, 0}, [2]float64{175, 0}}, {"HD", [2]float64{585, 0}, [2]float64{200, 0}},
		{"HE", [2]float64{670, 0}, [2]float64{220, 0}}, {"HS", [2]float64{720, 0}, [2]float64{0, 0}}}},
	{"nickel silver", "C75200", "KEM_CUNI18", "R610 is left out: its band starts at 640", []enTemper{
		{"R380", [2]float64{380, 450}, [2]float64{85, 115}}, {"R450", [2]float64{450, 520}, [2]float64{115, 160}},
		{"R500", [2]float64{500, 590}, [2]float64{160, 190}}, {"R580", [2]float64{580, 670}, [2]float64{180, 210}}}},
}

// Outside check (standard): the strengths of strip of the European standard, as a maker prints
// them.
func TestENStripAsPrinted(t *testing.T) {
	for _, c := range enStrip {
		for _, row := range c.tempers {
			t.Run(c.name+" "+row.name, func(t *testing.T) {
				require.NotEmpty(t, c.reason)
				for p, want := range map[Property][2]float64{Tensile: row.tensile, Hardness: row.hardness} {
					require.Equal(t, want, printedFor(t, c.alloy, c.source, row.name, p), "%s: %s", p, c.reason)
				}
			})
		}
	}
}

// printedFor is what a source prints of a property for a temper: least and most.
func printedFor(t *testing.T, alloy, source, temper string, p Property) [2]float64 {
	t.Helper()
	for _, f := range mustFind(t, alloy).Figures(p) {
		if f.Source != source || f.Condition != Condition("EN 1652 "+temper) {
			continue
		}
		require.Equal(t, UseAlso, f.Use, "a temper has no reduction, so nothing is computed with it")
		switch f.Bound {
		case AtLeast:
			return [2]float64{f.Low, 0}
		case AtMost:
			return [2]float64{0, f.High}
		}
		return [2]float64{f.Low, f.High}
	}
	return [2]float64{}
}

// Within an alloy a stronger temper is a harder one.
func TestENStripHardensAsItGetsStronger(t *testing.T) {
	for _, c := range enStrip {
		t.Run(c.name, func(t *testing.T) {
			for i, q := range c.tempers[1:] {
				p := c.tempers[i]
				require.Less(t, p.tensile[0], q.tensile[0], "%s to %s", p.name, q.name)
				if q.hardness == [2]float64{} {
					continue
				}
				require.Less(t, p.hardness[0], max(q.hardness[0], q.hardness[1]), "%s to %s", p.name, q.name)
				if p.hardness[1] > 0 && q.hardness[1] > 0 {
					require.Less(t, p.hardness[1], q.hardness[1], "%s to %s", p.name, q.name)
				}
				if p.hardness[0] == 0 {
					require.LessOrEqual(t, p.hardness[1], q.hardness[0], "%s to %s", p.name, q.name)
				}
			}
		})
	}
}
