package coldwork

import (
	"strings"
	"testing"

	"dullred/schedule/internal/published"

	"github.com/stretchr/testify/require"
)

const workedExamples = "worked_examples.csv"

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
	rows := published.Rows(t, workedExamples)
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
