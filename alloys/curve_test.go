package alloys

import (
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
)

// stripAt and wireAt write a reduction the way a caller would.
func stripAt(pct float64) unit.Strain { return unit.ThicknessReduction(pct / 100).Strain() }
func wireAt(pct float64) unit.Strain  { return unit.AreaReduction(pct / 100).Strain() }

// published is one printed point of a curve.
type published struct{ pct, low, high float64 }

var curveCases = []struct {
	name, source, reason string
	alloy                string
	property             Property
	form                 Form
	place                func(float64) unit.Strain
	points               []published
	beyond               float64 // a reduction past the last point
}{
	{"fine silver sheet", "WREKIN_HV", "trade sheet, temper by temper", "AG999", Hardness, Strip, stripAt,
		[]published{{0, 54, 54}, {11, 62, 71}, {21, 77, 89}, {29, 84, 94}, {37, 89, 108}}, 38},
	{"sterling sheet", "WREKIN_HV", "trade sheet, temper by temper", "AG925", Hardness, Strip, stripAt,
		[]published{{0, 66, 76}, {11, 78, 88}, {21, 90, 100}, {29, 102, 114}, {37, 116, 130}}, 38},
	{"sterling wire", "ESPI_925", "softer than sheet at one strain: its own curve", "AG925", Hardness, Wire, wireAt,
		[]published{{0, 71, 71}, {37, 95, 95}, {60, 123, 123}, {84, 140, 140}}, 85},
	{"sterling wire strength", "ESPI_925", "the same four tempers", "AG925", Tensile, Wire, wireAt,
		[]published{{0, 283, 283}, {37, 386, 386}, {60, 496, 496}, {84, 552, 552}}, 85},
	{"copper strip strength", "WIE_C110", "ends at H08: H10 is printed as a minimum only", "C11000", Tensile, Strip, stripAt,
		[]published{{0, 180, 260}, {10.9, 235, 290}, {20.7, 255, 315}, {29.4, 285, 345}, {37.1, 295, 360}, {50, 325, 385}, {60.5, 345, 400}}, 68.7},
	{"copper strip yield", "WIE_C110", "ends at H08 too", "C11000", Yield, Strip, stripAt,
		[]published{{0, 70, 70}, {10.9, 220, 220}, {20.7, 255, 255}, {29.4, 295, 295}, {37.1, 310, 310}, {50, 345, 345}, {60.5, 360, 360}}, 68.7},
	{"copper strip elongation", "WIE_C110", "falls", "C11000", Elongation, Strip, stripAt,
		[]published{{0, 35, 35}, {10.9, 23, 23}, {20.7, 20, 20}, {29.4, 14, 14}, {37.1, 9, 9}, {50, 4, 4}, {60.5, 3, 3}}, 68.7},
	{"Britannia silver sheet", "WREKIN_HV", "trade sheet, temper by temper", "AG958", Hardness, Strip, stripAt,
		[]published{{0, 55, 65}, {11, 70, 89}, {21, 90, 109}, {29, 110, 114}, {37, 115, 135}}, 38},
	{"germanium sterling sheet", "WREKIN_HV", "hardens fastest of the silvers", "AG925GE", Hardness, Strip, stripAt,
		[]published{{0, 50, 70}, {11, 90, 105}, {21, 106, 120}, {29, 121, 135}, {37, 136, 148}}, 38},
	{"ASTM B36 strip, 10 % zinc: strength", "OLIN_C220", "seven tempers; its misprinted three-quarter hard row is left out", "C22000", Tensile, Strip, stripAt,
		[]published{{0, 250, 290}, {10.9, 275, 345}, {20.7, 325, 395}, {37.1, 395, 455}, {50, 440, 495}, {60.5, 475, 530}, {68.7, 495, 550}}, 69},
	{"ASTM B36 strip, 10 % zinc: yield", "OLIN_C220", "single figures", "C22000", Yield, Strip, stripAt,
		[]published{{0, 85, 85}, {10.9, 230, 230}, {20.7, 325, 325}, {37.1, 400, 400}, {50, 435, 435}, {60.5, 470, 470}, {68.7, 485, 485}}, 69},
	{"ASTM B36 strip, 10 % zinc: elongation", "OLIN_C220", "level at the end", "C22000", Elongation, Strip, stripAt,
		[]published{{0, 47, 47}, {10.9, 27, 27}, {20.7, 12, 12}, {37.1, 4, 4}, {50, 2, 2}, {60.5, 1, 1}, {68.7, 1, 1}}, 69},
	{"ASTM B36 strip, 15 % zinc: strength", "KWALITY_C230", "sheet of 1 mm", "C23000", Tensile, Strip, stripAt,
		[]published{{0, 310, 310}, {20.7, 393, 393}, {37.1, 483, 483}, {50, 538, 538}}, 51},
	{"ASTM B36 strip, 15 % zinc: elongation", "KWALITY_C230", "sheet of 1 mm", "C23000", Elongation, Strip, stripAt,
		[]published{{0, 42, 42}, {20.7, 12, 12}, {37.1, 5, 5}, {50, 4, 4}}, 51},
	{"60/40 brass strip strength", "CDA_C280", "54, 60 and 70 ksi", "C28000", Tensile, Strip, stripAt,
		[]published{{0, 372, 372}, {5.6, 414, 414}, {20.7, 483, 483}}, 21},
	{"5 % bronze strip strength", "OLIN_C510", "eight tempers", "C51000", Tensile, Strip, stripAt,
		[]published{{0, 315, 385}, {10.9, 340, 420}, {20.7, 400, 505}, {29.4, 470, 545}, {37.1, 525, 625}, {50, 605, 710}, {60.5, 655, 760}, {68.7, 690, 785}}, 69},
	{"5 % bronze strip yield", "OLIN_C510", "single figures", "C51000", Yield, Strip, stripAt,
		[]published{{0, 165, 165}, {10.9, 255, 255}, {20.7, 395, 395}, {29.4, 470, 470}, {37.1, 560, 560}, {50, 640, 640}, {60.5, 690, 690}, {68.7, 715, 715}}, 69},
	{"60/40 brass strip elongation", "CDA_C280", "falls", "C28000", Elongation, Strip, stripAt,
		[]published{{0, 45, 45}, {5.6, 30, 30}, {20.7, 10, 10}}, 21},
	{"5 % bronze strip elongation", "OLIN_C510", "level at the end", "C51000", Elongation, Strip, stripAt,
		[]published{{0, 55, 55}, {10.9, 41, 41}, {20.7, 24, 24}, {29.4, 15, 15}, {37.1, 10, 10}, {50, 4, 4}, {60.5, 2, 2}, {68.7, 2, 2}}, 69},
	{"5 % bronze wire strength", "FISK_C510", "to H08", "C51000", Tensile, Wire, wireAt,
		[]published{{0, 295, 400}, {20.7, 415, 525}, {37.1, 550, 670}, {50, 660, 795}, {60.5, 745, 885}, {84, 895, 1000}}, 85},
	{"6 % bronze wire strength", "FISK_C519", "H08 is printed as a minimum only", "C51900", Tensile, Wire, wireAt,
		[]published{{0, 370, 470}, {20.7, 460, 560}, {37.1, 550, 670}, {50, 660, 800}, {60.5, 790, 960}}, 84},
	{"8 % bronze wire strength", "FISK_C521", "to H04", "C52100", Tensile, Wire, wireAt,
		[]published{{0, 360, 470}, {20.7, 510, 630}, {37.1, 650, 800}, {50, 770, 940}, {60.5, 860, 1040}}, 61},
	{"brass strip strength", "CDA_COLDROLLED", "printed with its reductions", "C26000", Tensile, Strip, stripAt,
		[]published{{11, 372, 372}, {21, 427, 427}, {37, 524, 524}, {50, 593, 593}, {60, 648, 648}}, 61},
	{"brass strip yield", "CDA_COLDROLLED", "level at the end", "C26000", Yield, Strip, stripAt,
		[]published{{11, 276, 276}, {21, 345, 345}, {37, 414, 414}, {50, 427, 427}, {60, 427, 427}}, 61},
	{"brass strip elongation", "CDA_COLDROLLED", "falls", "C26000", Elongation, Strip, stripAt,
		[]published{{11, 43, 43}, {21, 23, 23}, {37, 8, 8}, {50, 5, 5}, {60, 3, 3}}, 61},
	{"brass wire strength", "LFA_C260W", "from soft; spring is printed as a minimum only", "C26000", Tensile, Wire, wireAt,
		[]published{{0, 330, 372}, {20.7, 425, 530}, {37.1, 545, 650}, {50, 635, 740}, {60.5, 700, 810}, {75, 790, 890}}, 84},
	{"bronze strip strength", "BTI_C524", "six tempers", "C52400", Tensile, Strip, stripAt,
		[]published{{0, 455, 455}, {20.7, 570, 570}, {37.1, 690, 690}, {50, 795, 795}, {60.5, 840, 840}, {68.7, 885, 885}}, 69},
	{"bronze strip elongation", "BTI_C524", "falls from the longest of all the metals", "C52400", Elongation, Strip, stripAt,
		[]published{{0, 68, 68}, {20.7, 32, 32}, {37.1, 13, 13}, {50, 7, 7}, {60.5, 4, 4}, {68.7, 3, 3}}, 69},
	{"bronze wire strength", "CDA_C524", "66, 93, 118 and 147 ksi", "C52400", Tensile, Wire, wireAt,
		[]published{{0, 455, 455}, {20.7, 641, 641}, {37.1, 814, 814}, {60.5, 1014, 1014}}, 61},
}

// Outside check (handbook): every published series of hardness and strength, point by point,
// in the curve through it.
func TestCurvesPassThroughWhatIsPublished(t *testing.T) {
	for _, c := range curveCases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			curve, ok := mustFind(t, c.alloy).Curve(c.property, c.form)
			require.True(t, ok)
			require.Equal(t, c.source, curve.Source)
			require.Len(t, curve.Points(), len(c.points))
			for _, p := range c.points {
				low, high, ok := curve.At(c.place(p.pct))
				require.True(t, ok, "at %v %%", p.pct)
				require.InDelta(t, p.low, low, 1e-6, "at %v %%", p.pct)
				require.InDelta(t, p.high, high, 1e-6, "at %v %%", p.pct)
			}
		})
	}
}

func TestEveryCurveThatIsComputedWithIsProved(t *testing.T) {
	proved := map[string]bool{}
	for _, c := range curveCases {
		proved[c.alloy+string(c.property)+string(c.form)] = true
	}
	for _, a := range All() {
		for _, c := range a.held.curves() {
			if c.Use == UseDefault {
				require.True(t, proved[string(a.ID)+string(c.Property)+string(c.Form)], "%s %s %s from %s", a.ID, c.Property, c.Form, c.Source)
			}
		}
	}
}

func TestCurvesAreMonotoneBetweenPoints(t *testing.T) {
	for _, c := range curveCases {
		curve, _ := mustFind(t, c.alloy).Curve(c.property, c.form)
		sign := 1.0
		if c.property == Elongation {
			sign = -1
		}
		points := curve.Points()
		for i, q := range points[1:] {
			p := points[i]
			wasLow, wasHigh := p.Low, p.High
			for step := range 21 {
				s := p.Strain + (q.Strain-p.Strain)*unit.Strain(step)/20
				low, high, ok := curve.At(s)
				require.True(t, ok)
				require.LessOrEqual(t, low, high)
				require.GreaterOrEqual(t, sign*(low-wasLow), -1e-9, "%s at strain %v", c.name, s)
				require.GreaterOrEqual(t, sign*(high-wasHigh), -1e-9, "%s at strain %v", c.name, s)
				wasLow, wasHigh = low, high
			}
			require.InDelta(t, q.Low, wasLow, 1e-6)
		}
	}
}

func TestCurvesAreSilentOutside(t *testing.T) {
	for _, c := range curveCases {
		curve, _ := mustFind(t, c.alloy).Curve(c.property, c.form)
		_, _, ok := curve.At(c.place(c.beyond))
		require.False(t, ok, "%s at %v %%: past the last point", c.name, c.beyond)
		_, _, ok = curve.At(c.place(c.points[0].pct) - 0.001)
		require.False(t, ok, "%s before its first point", c.name)
	}
	_, _, ok := Curve{}.At(0)
	require.False(t, ok, "the zero curve knows nothing")
}

func TestNoCurveIsMadeUp(t *testing.T) {
	for _, c := range []struct {
		name, alloy, reason string
		property            Property
		form                Form
	}{
		{"copper hardness", "C11000", "only soft metal and tempers without a reduction are published", Hardness, Strip},
		{"brass hardness", "C26000", "the same", Hardness, Strip},
		{"bronze hardness", "C52400", "tempers without a reduction; Rockwell is not converted", Hardness, Strip},
		{"bronze Rockwell", "C52400", "shown beside the rest, not computed with", HardnessHRB, Strip},
		{"red gold hardness", "AU750R", "two points, 70 % apart, are too few", Hardness, ""},
		{"14k hardness", "AU585Y", "two points, 70 % apart, are too few", Hardness, ""},
		{"nickel silver strength", "C75200", "tempers without a reduction", Tensile, Strip},
		{"aluminium strength", "AL1100", "tempers without a reduction", Tensile, ""},
		{"pewter strength", "SN92", "it softens as it is rolled", Tensile, Strip},
		{"fine silver strength", "AG999", "one figure is no curve", Tensile, ""},
	} {
		_, ok := mustFind(t, c.alloy).Curve(c.property, c.form)
		require.False(t, ok, "%s: %s", c.name, c.reason)
	}
	require.Len(t, mustFind(t, "C52400").Curves(HardnessHRB), 1, "but it is shown")
	require.Len(t, mustFind(t, "AG925").Curves(Hardness), 2, "sheet and wire")
}
