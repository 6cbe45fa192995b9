package coldwork

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// exampleRow is one row of the worked examples.
type exampleRow struct {
	ID, Area, Inputs, Expected, Unit, Tolerance, Source, Locator string
}

// readExamples reads the worked examples by id.
func readExamples(t *testing.T) map[string]exampleRow {
	t.Helper()
	f, err := os.Open("../../testdata/worked_examples.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	records, err := r.ReadAll()
	require.NoError(t, err)
	require.Equal(t, "id,area,inputs,expected,unit,tolerance,source,locator", strings.Join(records[0], ","))
	rows := map[string]exampleRow{}
	for _, c := range records[1:] {
		require.NotContains(t, rows, c[0], "an id twice")
		rows[c[0]] = exampleRow{c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7]}
	}
	return rows
}

// figures are the answers of a row and the absolute tolerance of each.
func (r exampleRow) figures(t *testing.T) (want []float64, within float64) {
	t.Helper()
	within, err := strconv.ParseFloat(r.Tolerance, 64)
	require.NoError(t, err, "%s has no tolerance to compute within", r.ID)
	for text := range strings.SplitSeq(r.Expected, ";") {
		v, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err, r.ID)
		want = append(want, v)
	}
	return want, within
}

const (
	noFeature = "no feature uses it yet: "
	inStock   = "computed in the tests of schedule/stock: "
)

// notComputed are the rows that this package does not compute, and why.
var notComputed = map[string]string{
	"S13": noFeature + "von Mises stress of a state of stress",
	"S15": noFeature + "a starting size for a wanted reduction",
	"S26": noFeature + "spread under a narrow tool (Tomlinson); the width is read instead",
	"S28": noFeature + "spread in rolling (Hill); the width is read instead",
	"H01": noFeature + "Hollomon flow stress",
	"H02": noFeature + "Hollomon flow stress",
	"H04": noFeature + "Hollomon flow stress",
	"H05": noFeature + "Hollomon flow stress",
	"H07": noFeature + "Hollomon flow stress",
	"H08": noFeature + "Hollomon flow stress, and these constants contradict the published strength",
	"H09": noFeature + "Hollomon flow stress",
	"H10": noFeature + "Hollomon flow stress of a steel",
	"H11": "a published range, nothing to compute",
	"H18": noFeature + "Johnson-Cook flow stress",
	"H19": noFeature + "Voce flow stress",
	"H21": noFeature + "necking in tension",
	"H22": noFeature + "flow stress from hardness (Tabor); hardness is read off published curves only",
	"H23": noFeature + "strength from hardness (Cahoon); strength is read off published curves only",
	"H25": "a published range, nothing to compute",
	"M03": inStock + "Norse weights from their grains",
	"M06": inStock + "the spread of the Roman pound",
	"M08": inStock + "mithqal and dirham",
	"M13": inStock + "volume of a tapered bar",
	"M15": inStock + "volume of a cone",
	"M18": inStock + "losses of the workshop",
	"M19": inStock + "the spread of the workshop's losses",
}

func TestEveryWorkedExampleIsComputedOrSaysWhyNot(t *testing.T) {
	rows := readExamples(t)
	seen := map[string]bool{}
	for _, c := range computed {
		require.Contains(t, rows, c.id, "computed, but no row")
		require.False(t, seen[c.id], "%s is computed twice", c.id)
		seen[c.id] = true
	}
	for id, why := range notComputed {
		require.Contains(t, rows, id, "listed, but no row")
		require.NotEmpty(t, strings.TrimPrefix(strings.TrimPrefix(why, noFeature), inStock), id)
		require.False(t, seen[id], "%s is both computed and listed as not", id)
	}
	for id, r := range rows {
		require.True(t, seen[id] || notComputed[id] != "", "%s is neither computed nor listed", id)
		require.Contains(t, []string{"strain", "hardening", "hardness", "mass"}, r.Area, id)
		require.NotEmpty(t, r.Source, id)
		require.NotEmpty(t, r.Locator, id)
	}
}
