package stock

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTangNeeds(t *testing.T) {
	tang, err := ParseTang("2x120")
	require.NoError(t, err)
	from, err := ParseSection("6x1.5")
	require.NoError(t, err)
	require.InDelta(t, 41.888, float64(tang.Needs(from)), 0.001, "π 1² 120 / 9, by hand")
	require.Zero(t, tang.Needs(Section{}), "no section, no length")
}

func TestWithTang(t *testing.T) {
	s := mustShape(t, "0:6x1.5 80:10x3")
	cases := []struct {
		name   string
		texts  []string
		want   []End
		reason string
	}{
		{"one", []string{"2x120"}, []End{Start}, "the start if it is free"},
		{"two", []string{"2x120", "2x60"}, []End{Start, Finish}, "then the other end"},
		{"placed", []string{"2 x 120mm @end"}, []End{Finish}, "as it says"},
		{"the end first", []string{"2x120@end", "2x60"}, []End{Finish, Start}, "the start is still free"},
		{"by word", []string{"2x120@START"}, []End{Start}, "0 by another name"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got, err := s, error(nil)
			for _, text := range c.texts {
				got, err = got.WithTang(text)
				require.NoError(t, err)
			}
			require.Len(t, got.Tangs, len(c.want))
			for i, e := range c.want {
				require.Equal(t, e, got.Tangs[i].End, c.reason)
			}
			require.Empty(t, s.Tangs, "the shape that was is as it was")
		})
	}
	for _, bad := range []string{"", "2", "2x", "2 round", "2x120@middle", "0x9", "2x120x3", "8x10"} {
		_, err := s.WithTang(bad)
		require.Error(t, err, bad)
	}
	full, err := s.WithTang("2x9")
	require.NoError(t, err)
	full, err = full.WithTang("2x9")
	require.NoError(t, err)
	_, err = full.WithTang("2x9")
	require.ErrorContains(t, err, "one too many", "there are two ends")
}
