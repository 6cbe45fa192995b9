package coldwork

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestParseProcess(t *testing.T) {
	for _, p := range Processes() {
		got, err := ParseProcess(" " + string(p[0]-'a'+'A') + string(p[1:]) + " ")
		require.NoError(t, err)
		require.Equal(t, p, got, "any case, blanks around it")
		require.Positive(t, Prior(p).PerCourse(), "every process has an expectation")
	}
	_, err := ParseProcess("melt")
	require.EqualError(t, err, `"melt" is not a process; expected one of lengthen, widen, flatten, roll, draw, `+
		`bend, twist, stamp, sink, raise, planish, caulk`)
}

func TestKindsOfProcess(t *testing.T) {
	for _, p := range Processes() {
		require.Equal(t, p == Bending || p == Twisting, p.Shaped(), "%s is read from its own geometry", p)
		require.Equal(t, p == Stamp, p.Local(), "%s stays under the tool", p)
	}
}
