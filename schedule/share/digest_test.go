package share_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/share"
	"dullred/schedule/share/sharetest"
)

// full has something in every column.
var full = schedule.Row{
	ID: "0198f4b6-5c1e-7d2a-9b40-6f1a2d3c4e5f", At: 1930588200000000, Written: 1930588200000001,
	Bench: "0198f4b6-5c1e-7d2a-9b40-000000000001", Hand: "0198f4b6-5c1e-7d2a-9b40-000000000002", Piece: "0198f4b6-5c1e-7d2a-9b40-000000000003",
	Zones: "bowl\x1fstem", Kind: "polished", Version: 7, Process: "burnish", Count: 3, Shape: "oval",
	Thick: 1.25, Width: -2, Diameter: math.SmallestNonzeroFloat64, Ring: math.MaxFloat64, Length: 0.1, Temp: -273.15,
	Body: `{"with":"ágate"}`,
}

// TestDigestIsFixed: records of many years are compared by it. The values were reckoned
// with the hashlib and struct modules of Python from the description of Digest.
func TestDigestIsFixed(t *testing.T) {
	alert := full
	alert.Kind = string(schedule.KindRaised)
	cases := []struct {
		name   string
		row    schedule.Row
		want   uint64
		reason string
	}{
		{"nothing", schedule.Row{}, 0x5b517952cbe9c4c1, "every column counts, though it is empty"},
		{"everything", full, 0xdc2b11265859c15a, "the extremes of a binary64, and text beyond ASCII"},
		{"an alert", alert, 0x33316ff33ea59d76, "two benches that found it have the same"},
	}
	for _, c := range cases {
		require.NotEmpty(t, c.reason)
		require.Equalf(t, c.want, share.Digest(c.row), "%s: %#x", c.name, share.Digest(c.row))
	}
}

func TestDigestMindsEveryColumn(t *testing.T) {
	seen := map[uint64]string{share.Digest(full): "as it is"}
	for i := range reflect.TypeFor[schedule.Row]().NumField() {
		name, other := reflect.TypeFor[schedule.Row]().Field(i).Name, full
		switch field := reflect.ValueOf(&other).Elem().Field(i); field.Kind() {
		case reflect.String:
			field.SetString(field.String() + "s")
		case reflect.Int64:
			field.SetInt(-field.Int())
		default:
			field.SetFloat(0)
		}
		require.Empty(t, seen[share.Digest(other)], name)
		seen[share.Digest(other)] = name
	}
}

func TestDigestTellsColumnsApart(t *testing.T) {
	a, b := schedule.Row{Process: "ab", Shape: "c"}, schedule.Row{Process: "a", Shape: "bc"}
	require.NotEqual(t, share.Digest(a), share.Digest(b), "where one text ends is part of it")
}

func TestDigestOfZeroHasNoSign(t *testing.T) {
	minus := full
	plus := full
	minus.Temp, plus.Temp = math.Copysign(0, -1), 0
	require.Equal(t, share.Digest(plus), share.Digest(minus))
}

func TestSumDoesNotHangOnTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bench, pieces := sharetest.NewID(), []string{sharetest.NewID(), sharetest.NewID()}
		rows := rapid.SliceOfN(sharetest.AnyRow(bench, pieces...), 0, 6).Draw(t, "rows")
		mixed := rapid.Permutation(rows).Draw(t, "mixed")
		require.Equal(t, share.SumsOf(rows), share.SumsOf(mixed))
		all, counted := share.Sum{}, share.Sum{}
		for _, r := range rows {
			all = all.Add(r)
		}
		for _, s := range share.SumsOf(rows) {
			counted = share.Sum{Count: counted.Count + s.Count, Digest: counted.Digest + s.Digest}
		}
		require.Equal(t, all, counted, "the sums of the pieces are the sum of all")
	})
}

func BenchmarkDigest(b *testing.B) {
	for b.Loop() {
		share.Digest(full)
	}
}
