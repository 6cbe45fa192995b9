package alloys

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Machinery's Handbook, 31st ed., Table 1a, after AWS A5.8-1981, in °F as printed [MH31].
//
// Outside check (handbook): solidus and liquidus of solders, Machinery's Handbook after AWS
// A5.8.
func TestSoldersAsPrinted(t *testing.T) {
	for _, c := range []struct {
		name              string
		solidus, liquidus float64
		cadmium           bool
		reason            string
	}{
		{"BAg-5", 1250, 1370, false, "its solidus is shown, and a lower one computed with"},
		{"BAg-6", 1270, 1425, false, "half silver"},
		{"BAg-7", 1145, 1205, false, "the lowest without cadmium"},
		{"BAg-8", 1435, 1435, false, "the eutectic"},
		{"BAg-18", 1115, 1325, false, "with tin, no zinc"},
		{"BAg-20", 1250, 1410, false, "little silver"},
		{"BAg-24", 1220, 1305, false, "with nickel"},
		{"BAg-2a", 1125, 1310, true, "20 % cadmium"},
		{"BAg-3", 1170, 1270, true, "16 % cadmium"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := FindSolder("AWS " + c.name)
			require.NoError(t, err)
			require.Equal(t, c.cadmium, s.Hazard == Cadmium, c.reason)
			for p, fahrenheit := range map[Property]float64{Solidus: c.solidus, Liquidus: c.liquidus} {
				printed := false
				for _, f := range s.Figures(p) {
					if f.Source == "MH31" {
						printed = true
						require.InDelta(t, (fahrenheit-32)/1.8, f.Low, 0.8, "%s: %s", p, c.reason)
					}
				}
				require.True(t, printed, p)
			}
		})
	}
}

func TestGuardianSolders(t *testing.T) {
	for _, s := range Solders() {
		require.Equal(t, strings.Contains(s.Composition, "Cd"), s.Hazard == Cadmium, s.ID)
		heats := 0
		for _, p := range []Property{Solidus, Liquidus, Flow} {
			f, ok := s.Default(p)
			if ok {
				heats++
			}
			for _, other := range s.Figures(p) {
				require.True(t, ok, "%s: %s", s.ID, p)
				require.LessOrEqual(t, f.Low, other.Low, "the lower of two figures is computed with: %s", describe(other))
			}
		}
		require.Positive(t, heats, s.ID)
		solidus, ok := s.Default(Solidus)
		if !ok {
			continue
		}
		for _, p := range []Property{Liquidus, Flow} {
			if f, ok := s.Default(p); ok {
				require.LessOrEqual(t, solidus.High, f.Low, "%s: %s", s.ID, p)
			}
		}
	}
}

// A supplier's table of grades gives flow points [SOLD_FLOW]. No margin below a
// joint may be reckoned from one.
func TestFlowPointIsNoSolidus(t *testing.T) {
	for _, c := range []struct {
		name       string
		flow       float64
		hasSolidus bool
		reason     string
	}{
		{"extra-easy", 653, true, "its melting point is published apart, as 618 °C"},
		{"easy", 718, false, "flow point only"},
		{"medium", 738, false, "flow point only; 1360 °F misprinted as 1660"},
		{"hard", 788, false, "flow point only"},
	} {
		s, err := FindSolder(c.name)
		require.NoError(t, err)
		f, ok := s.Default(Flow)
		require.True(t, ok, c.name)
		require.Equal(t, c.flow, f.Low, "%s: %s", c.name, c.reason)
		_, ok = s.Default(Solidus)
		require.Equal(t, c.hasSolidus, ok, "%s: %s", c.name, c.reason)
		_, ok = s.Default(Liquidus)
		require.False(t, ok, "%s: %s", c.name, c.reason)
	}
}

func TestLowerOfTwoContradictingHeats(t *testing.T) {
	s, err := FindSolder("bag5")
	require.NoError(t, err)
	f, ok := s.Default(Solidus)
	require.True(t, ok)
	require.Equal(t, []any{663.0, ConfidenceMemory}, []any{f.Low, f.Confidence})
	require.Len(t, s.Figures(Solidus), 2, "the contradiction stays visible")
}

func TestFindSolderOffersTheNearestNames(t *testing.T) {
	_, err := FindSolder("mediun")
	unknown, ok := errors.AsType[*UnknownError](err)
	require.True(t, ok)
	require.Equal(t, "solder", unknown.What)
	require.Equal(t, "medium", unknown.Nearest[0])
	require.ErrorContains(t, err, `no solder is called "mediun"`)
	for _, s := range Solders() {
		for _, name := range s.called() {
			found, err := FindSolder(name)
			require.NoError(t, err)
			require.Equal(t, s.ID, found.ID, name)
		}
	}
}

// A solder of the Saltmarsh Quay class, as a smith might add it.
const ownSolders = "id,name,names,composition,hazard\nOWNS,quay solder,class easy,silver and brass,\n"

func withSolders(figures, solders string) Texts {
	in := texts(ownAlloys, ownFigures+figures, ownRules, ownSources)
	in.Solders = Text{"solders", strings.NewReader(solders)}
	return in
}

func TestReadTakesOwnSolders(t *testing.T) {
	b, err := Read(withSolders("OWNS,flow,,,,,,700,700,,C,default,bench,practice,\n", ownSolders))
	require.NoError(t, err)
	s, err := b.FindSolder("Class-Easy")
	require.NoError(t, err)
	f, ok := s.Default(Flow)
	require.True(t, ok)
	require.Equal(t, 700.0, f.Low)
	_, ok = s.Default(Solidus)
	require.False(t, ok)
	b, err = Read(texts(ownAlloys, ownFigures, ownRules, ownSources))
	require.NoError(t, err)
	require.Empty(t, b.Solders(), "a set without a table of solders")
}

func TestReadNamesThePlaceInSolders(t *testing.T) {
	for _, c := range []struct{ name, figures, solders, want string }{
		{"a solder twice", "", ownSolders + "OWNS,other,,x,\n", `solders:3:1: solder "OWNS" stands twice`},
		{"the id of an alloy", "", changed(ownSolders, "OWNS", "OWN1"), `solders:2:1: solder "OWN1" stands twice`},
		{"a name of two solders", "", ownSolders + "OWNT,quay solder,,x,\n", `solders:3:1: "quay solder" is a name of OWNS too`},
		{"an unknown hazard", "", changed(ownSolders, "brass,", "brass,lead"), `solders:2:46: hazard "lead" is not one of "", "cadmium"`},
		{"a density of solder", "OWNS,density,,,,,,9,9,,g/cm3,default,bench,practice,\n", ownSolders, `figures:5:6: density is no property of OWNS`},
		{"a flow point of an alloy", "OWN1,flow,,,,,,700,700,,C,default,bench,practice,\n", ownSolders, `figures:5:6: flow is no property of OWN1`},
		{"a second default", strings.Repeat("OWNS,flow,,,,,,700,700,,C,default,bench,practice,\n", 2), ownSolders, `figures:6:1: this figure stands twice`},
		{"an empty table", "", "", `solders:1:1: no header row`},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, err := Read(withSolders(c.figures, c.solders))
			require.Nil(t, b)
			require.ErrorContains(t, err, c.want)
		})
	}
}
