package stock

import (
	"math"
	"testing"

	"dullred/alloys"
	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// band is the flared band of sterling that the whole is checked on by hand.
func band(t testing.TB) Job {
	t.Helper()
	silver, err := alloys.Find("sterling")
	require.NoError(t, err)
	d, ok := DensityOf(silver)
	require.True(t, ok)
	return Job{Volume: mustShape(t, "0:6x3 95:18x3 190:6x3").Volume(), Density: d,
		Losses: []Loss{NewLoss(Work, 0.025), NewLoss(Crop, 0.05)}, Bar: Section{Rectangular, 10, 10}}
}

func TestForward(t *testing.T) {
	m, err := band(t).Forward()
	require.NoError(t, err)
	require.InDelta(t, 70.8624, float64(m.Finished), 1e-9, "6840 mm³ of 10.36 g/cm³")
	require.InDelta(t, 70.8624/(0.975*0.95), float64(m.Cast), 1e-9, "losses multiply: 76.505 g")
	require.InDelta(t, 76.5, float64(m.Cast), 0.05)
	require.InDelta(t, 73.846, float64(m.BarLength), 0.001, "6840/(0.975 0.95)/100: all of the loss is after the casting")
	require.InDelta(t, 10.357/10.36*float64(m.Cast), float64(m.CastLow), 1e-9, "sterling is published from 10.357")
	require.InDelta(t, float64(m.Cast), float64(m.CastHigh), 1e-9)
}

func TestBackward(t *testing.T) {
	e, err := band(t).Backward(77)
	require.NoError(t, err)
	require.InDelta(t, 77*0.975*0.95, float64(e.Finished), 1e-9, "71.32 g")
	require.InDelta(t, 1.006475, e.Scale, 1e-6, "77/76.505")
	require.InDelta(t, 191.23, 190*e.Scale, 0.01, "the longest piece")
	require.InDelta(t, math.Cbrt(e.Scale), e.ScaleAll, 1e-12)
	require.InDelta(t, 77-76.504615, float64(e.Left), 1e-5, "what is over")
	require.InDelta(t, 77/10.36*10, float64(e.Length), 1e-9, "all of it as a bar 10x10")
}

func TestSectionFactor(t *testing.T) {
	j := band(t)
	j.Factor = 0.62
	m, err := j.Forward()
	require.NoError(t, err)
	require.InDelta(t, 73.846/0.62, float64(m.BarLength), 0.01, "a bar that fills less of its box is longer")
	require.InDelta(t, 22*14*10*0.62*10.36/1000, float64(j.BoxMass([3]unit.Millimetre{22, 14, 10})), 1e-9, "by its sides")
	j.Factor = 0
	require.InDelta(t, 22*14*10*10.36/1000, float64(j.BoxMass([3]unit.Millimetre{22, 14, 10})), 1e-9, "a full box")
}

func TestLossesAreNamedOneByOne(t *testing.T) {
	j := band(t)
	j.Losses = UsualLosses()
	m, err := j.Forward()
	require.NoError(t, err)
	sum := unit.Gram(0)
	for _, l := range m.Lost {
		sum += l.Mass
		require.NotEmpty(t, l.Basis)
		require.True(t, l.Low <= l.Share && l.Share <= l.High, l.Cause)
	}
	require.InDelta(t, float64(m.Cast-m.Finished), float64(sum), 1e-9, "nothing is lost without a name")
	require.InDelta(t, float64(m.Cast)*0.99, float64(m.Bar), 1e-9, "the bar is what the melt leaves")
	require.Less(t, float64(m.CastLow), float64(m.Cast))
	require.Greater(t, float64(m.CastHigh), float64(m.Cast))
}

func TestWithLoss(t *testing.T) {
	causes := func(losses []Loss) (all []Cause) {
		for _, l := range losses {
			all = append(all, l.Cause)
		}
		return all
	}
	require.Equal(t, []Cause{Crop, Work}, causes(WithLoss(UsualLosses(), NewLoss(Work, 0.1))), "one figure for all but the crop")
	named := WithLoss(UsualLosses(), NewLoss(Filing, 0.2))
	require.Equal(t, causes(UsualLosses()), causes(named), "in its place")
	require.Equal(t, NewLoss(Filing, 0.2), named[3])
}

func TestForwardRefuses(t *testing.T) {
	nan := math.NaN()
	cases := []struct {
		name   string
		spoil  func(*Job)
		says   string
		reason string
	}{
		{"no volume", func(j *Job) { j.Volume = 0 }, "volume", "the zero job"},
		{"a volume that is no number", func(j *Job) { j.Volume = unit.CubicMillimetre(nan) }, "volume", "NaN"},
		{"no density", func(j *Job) { j.Density = Spread{} }, "density", "a figure that is absent is not 0"},
		{"a density out of its range", func(j *Job) { j.Density.Low = 11 }, "density", "low above the value"},
		{"a loss of all", func(j *Job) { j.Losses[0].Share = 1 }, "not from 0 to 90", "nothing would be left"},
		{"a loss that is no number", func(j *Job) { j.Losses[0].High = nan }, "not from 0 to 90", "NaN"},
		{"a loss twice", func(j *Job) { j.Losses[1].Cause = Work }, "twice", "it would count twice"},
		{"a factor of 62", func(j *Job) { j.Factor = 62 }, "0.1 to 1", "per cent for a share"},
		{"a bar with no kind", func(j *Job) { j.Bar = Section{Width: 1} }, "no kind", "not a section"},
		{"a ton and more", func(j *Job) { j.Volume = 1e9 }, "10360 kg", "more than any workshop casts"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			j := band(t)
			c.spoil(&j)
			_, err := j.Forward()
			require.ErrorContains(t, err, c.says, c.reason)
			_, err = j.Backward(77)
			require.Error(t, err)
		})
	}
	for _, have := range []unit.Gram{0, -1, unit.Gram(nan), 1e9} {
		_, err := band(t).Backward(have)
		require.ErrorContains(t, err, "not a mass")
	}
}

// What Forward asks for is just enough, and twice as much makes twice the length.
func TestBackwardOfForward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0, 0.5)
		j := Job{Volume: anyShape(t).Volume(), Bar: anySection(t, Rectangular)}
		d := unit.Density(rapid.Float64Range(2, 22).Draw(t, "density"))
		j.Density = Spread{d, d, d}
		for _, c := range []Cause{Melt, Crop, Scale, Filing, Polish} {
			j.Losses = append(j.Losses, NewLoss(c, share.Draw(t, string(c))))
		}
		m, err := j.Forward()
		require.NoError(t, err)
		e, err := j.Backward(m.Cast)
		require.NoError(t, err)
		require.InDelta(t, 1, e.Scale, 1e-12)
		require.InEpsilon(t, float64(m.Finished), float64(e.Finished), 1e-12)
		require.InDelta(t, 0, float64(e.Left), 1e-9*float64(m.Cast))
		require.InEpsilon(t, float64(m.BarLength), float64(e.Length), 1e-9)
		twice, err := j.Backward(2 * m.Cast)
		require.NoError(t, err)
		require.InDelta(t, 2, twice.Scale, 1e-12)
	})
}

func TestDensityOf(t *testing.T) {
	silver, err := alloys.Find("sterling")
	require.NoError(t, err)
	d, ok := DensityOf(silver)
	require.True(t, ok)
	require.Equal(t, Spread{10.36, 10.357, 10.36}, d, "ESPI 10.36, by volume 10.357")
	bronze, err := alloys.Find("C52100")
	require.NoError(t, err)
	d, ok = DensityOf(bronze)
	require.True(t, ok)
	require.Equal(t, unit.Density(8.8), d.High, "8.94 is printed beside 0.318 lb/in3 and never computed with")
	_, ok = DensityOf(alloys.Alloy{})
	require.False(t, ok, "the zero alloy has none")
}

func TestParseShare(t *testing.T) {
	for text, want := range map[string]float64{"2.5%": 0.025, " 2,5 % ": 0.025, "0%": 0, "90%": 0.9, ".5%": 0.005} {
		got, err := ParseShare(text)
		require.NoError(t, err, text)
		require.InDelta(t, want, got, 1e-15, text)
	}
	for _, bad := range []string{"", "2.5", "0.025", "91%", "-1%", "1e1%", "NaN%", "%", "5%%", "a fifth"} {
		_, err := ParseShare(bad)
		require.Error(t, err, bad)
	}
}
