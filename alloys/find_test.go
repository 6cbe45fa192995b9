package alloys

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFind(t *testing.T) {
	for name, want := range map[string]ID{
		"sterling": "AG925", "925": "AG925", "AG925": "AG925", "Sterling Silver": "AG925", "ag-925": "AG925",
		"fine-silver": "AG999", "FINE_SILVER": "AG999", "999": "AG999",
		"copper": "C11000", "c11000": "C11000", "cu-etp": "C11000",
		"C26000": "C26000", "cartridge brass": "C26000", "brass": "C26000",
		"bronze": "C52400", "tin-bronze": "C52400", "CuSn10": "C52400",
		"pewter": "SN92", "lead free pewter": "SN92", "lead pewter": "SNPB", "old pewter": "SNPB",
		"Britannia": "AG958", "958": "AG958", "germanium silver": "AG925GE", "800 silver": "AG800",
		"22k gold": "AU916", "18ct red gold": "AU750R", "18k white": "AU750W", "14k yellow": "AU585Y",
		"platinum": "PT950", "palladium": "PD950", "gilding metal": "C23000", "CuZn36": "C27000", "Muntz metal": "C28000",
		"CuSn8": "C52100", "german silver": "C75200", "mild steel": "STEEL1008", "aluminum": "AL1100", "tin": "SN999",
	} {
		a, err := Find(name)
		require.NoError(t, err)
		require.Equal(t, want, a.ID, name)
	}
}

func TestEveryNameFindsItsAlloy(t *testing.T) {
	for _, a := range All() {
		for _, name := range a.called() {
			got, err := Find(name)
			require.NoError(t, err)
			require.Equal(t, a.ID, got.ID, name)
		}
	}
}

func TestFindOffersTheNearestNames(t *testing.T) {
	for _, c := range []struct{ name, typed, nearest, reason string }{
		{"a letter left out", "sterlng", "sterling", "one letter away"},
		{"a letter changed", "coppor", "copper", "one letter away"},
		{"two letters swapped", "pwetwr", "pewter", "two or three letters away"},
		{"part of a name", "silver", "fine silver", "both silvers hold the word; the first stands first"},
		{"a number near", "C26001", "C26000", "one digit away"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Find(c.typed)
			unknown, ok := errors.AsType[*UnknownError](err)
			require.True(t, ok)
			require.Equal(t, c.typed, unknown.Name)
			require.Equal(t, c.nearest, unknown.Nearest[0], c.reason)
			require.Contains(t, err.Error(), `"`+c.typed+`"`)
			require.Contains(t, err.Error(), c.nearest)
		})
	}
}

func TestFindQuotesWhatItCannotCompare(t *testing.T) {
	for _, name := range []string{"", " - ", strings.Repeat("x", 10000), "\x1b[31m"} {
		_, err := Find(name)
		unknown, ok := errors.AsType[*UnknownError](err)
		require.True(t, ok)
		require.Equal(t, name, unknown.Name)
		require.NotContains(t, err.Error(), "\x1b", "control characters are quoted")
	}
}
