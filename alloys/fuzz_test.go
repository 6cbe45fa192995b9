package alloys

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

// FuzzFind: a metal or solder that is found is found by its id and its name too; what is
// not is an UnknownError with the text in it, in one line.
func FuzzFind(f *testing.F) {
	for _, seed := range []string{"sterling", "AG925", " 925 ", "C26000", "bag-7", "easy solder", "", "\x00", "\u202e925", "\xff", strings.Repeat("silver ", 400), "Sterling\nsilver"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		book := Default()
		a, err := book.Find(text)
		if err == nil {
			for _, name := range append([]string{string(a.ID), a.Name}, a.Names...) {
				again, err := book.Find(name)
				require.NoError(t, err)
				require.Equal(t, a.ID, again.ID)
			}
		} else {
			requireUnknown(t, text, err)
		}
		s, err := book.FindSolder(text)
		if err != nil {
			requireUnknown(t, text, err)
			return
		}
		again, err := book.FindSolder(string(s.ID))
		require.NoError(t, err)
		require.Equal(t, s.ID, again.ID)
	})
}

func requireUnknown(t *testing.T, text string, err error) {
	e, ok := errors.AsType[*UnknownError](err)
	require.True(t, ok, err)
	require.Contains(t, err.Error(), fmt.Sprintf("%.60q", text))
	require.LessOrEqual(t, len(e.Nearest), 3)
	require.Less(t, strings.IndexFunc(err.Error(), unicode.IsControl), 0, "%q", err)
	require.Less(t, len(err.Error()), 500)
}

// FuzzMix melts two parts together and brings them to a fineness: shares that are given
// come to a mass that is the sum, a fineness from 0 to 1, and an addition that brings it to
// what was wanted, or they are refused.
func FuzzMix(f *testing.F) {
	f.Add(60.0, 0.925, 15.5, 0.8, 0.9)
	f.Add(0.001, 1e-300, 1e9, 1.0, 0.999999)
	f.Add(60.0, 0.925, 15.5, 0.8, 1e-310)
	f.Add(1e6, 0.0, 1e6, 0.1, 0.998999999999)
	f.Add(math.NaN(), 0.5, math.Inf(1), 2.0, -1.0)
	f.Fuzz(func(t *testing.T, one, fine, two, other, to float64) {
		m, err := Mix([]Part{{unit.Gram(one), Shares{Silver: fine}}, {unit.Gram(two), Shares{Silver: other}}})
		if err != nil {
			return
		}
		require.InEpsilon(t, one+two, float64(m.Mass), 1e-9)
		add, err := m.Reach(to)
		if err != nil {
			requireOneClause(t, err)
			return
		}
		for _, g := range []float64{float64(add.Fine), float64(add.Copper)} {
			require.True(t, g >= 0 && g <= float64(unit.MaxMass), "%v", add)
		}
		require.True(t, m.Of[Silver] >= 0 && m.Of[Silver] <= 1, "%v", m.Of)
		if m.Mass >= unit.MinMass { // below it so few digits are left that a fineness is none
			silver := m.Of[Silver]*float64(m.Mass) + FineMetal*float64(add.Fine)
			require.InDelta(t, to, silver/float64(m.Mass+add.Fine+add.Copper), 2e-9)
		}
	})
}

func requireOneClause(t *testing.T, err error) {
	require.Less(t, strings.IndexFunc(err.Error(), unicode.IsControl), 0, "%q", err)
	require.Less(t, len(err.Error()), 1000)
}
