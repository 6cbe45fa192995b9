package alloys

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The word a program acts on must say what the sentence beside it says.
func TestGuardianCoolingAgreesWithTheQuenchRule(t *testing.T) {
	for _, a := range All() {
		c, text := a.Cooling(), a.Rules(RuleQuench)[0].Text
		if a.SelfSoftening {
			require.Equal(t, CoolUnknown, c, "%s is never heated", a.ID)
			continue
		}
		require.NotEqual(t, CoolUnknown, c, "%s: no cooling for %q", a.ID, text)
		require.Equal(t, a.Rules(RuleQuench)[0].Source, a.Rules(RuleCooling)[0].Source, a.ID)
		lower := strings.ToLower(text)
		switch c {
		case CoolDark:
			require.Regexp(t, `glow has gone|red go|faint(ly)? red`, lower, a.ID)
		case CoolEither:
			require.Regexp(t, `water.*air`, lower, a.ID)
		case CoolWhileRed:
			require.Regexp(t, `still|dull red straight`, lower, a.ID)
		case CoolAir:
			require.Contains(t, lower, "cool in the air", a.ID)
		case CoolSlow:
			require.Contains(t, lower, "slowly", a.ID)
		}
	}
}

func TestCoolingOfAnAlloyWithoutRules(t *testing.T) {
	require.Equal(t, CoolUnknown, Alloy{}.Cooling())
	require.False(t, CoolUnknown.Quenched(), "what is not known is left in the air")
	require.False(t, CoolAir.Quenched())
	require.True(t, CoolDark.Quenched())
}
