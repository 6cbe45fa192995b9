package heat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

func TestLearnFindsTheTorch(t *testing.T) {
	h := benchHeating(strip(t))
	h.Flame.H = 85
	took, err := h.Time(20, 550)
	require.NoError(t, err)
	timed := Timed{Heating: h, From: 20, To: 550, Took: took}
	timed.Heating.Flame.H = 0 // what is assumed does not count
	found, err := timed.H()
	require.NoError(t, err)
	require.InEpsilon(t, 85, found, 1e-5)
	l := Learn(TorchPrior, []Timed{timed, timed, timed, timed})
	require.InEpsilon(t, 85, l.H, 0.02, "the prior hardly counts after four")
	require.Equal(t, 4, l.N)
	require.Equal(t, l, LearnedFrom([]float64{found, found, found, found}), "the heats need not be kept, only what each was explained by")
	low, likely, high, err := l.Time(h, 20, 550)
	require.NoError(t, err)
	require.InEpsilon(t, took.Seconds(), likely.Seconds(), 0.05)
	require.Less(t, low, likely)
	require.Less(t, likely, high)
}

func TestLearnBeforeAnyHeat(t *testing.T) {
	l := Learn(TorchPrior, nil)
	require.InDelta(t, 100, l.H, 1e-6)
	require.InDelta(t, 50, l.Low, 1e-6, "the published range, no narrower")
	require.InDelta(t, 200, l.High, 1e-6)
	require.Zero(t, l.N)
	require.Equal(t, l, Learn(Prior{}, nil), "the zero prior is that of a torch")
}

func TestLearnLeavesOutWhatNoTorchExplains(t *testing.T) {
	h := benchHeating(strip(t))
	cases := []struct {
		name, reason string
		timed        Timed
	}{
		{"no time", "never timed", Timed{h, 20, 550, 0}},
		{"a blink", "no torch is that strong", Timed{h, 20, 550, 10 * time.Millisecond}},
		{"too hot", "hotter than the flame, so it is the wrong flame", Timed{h, 20, 1300, time.Minute}},
		{"no body", "nothing was heated", Timed{Heating{}, 20, 550, time.Minute}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := c.timed.H()
			require.ErrorContains(t, err, "no flame", c.reason)
			require.Equal(t, Learn(TorchPrior, nil), Learn(TorchPrior, []Timed{c.timed}), c.reason)
		})
	}
}

func TestLearnWidensWithTheSmithsOwnScatter(t *testing.T) {
	h := benchHeating(strip(t))
	heats := func(took ...time.Duration) (out []Timed) {
		for _, d := range took {
			out = append(out, Timed{h, 20, 550, d})
		}
		return out
	}
	steady := Learn(TorchPrior, heats(60*time.Second, 61*time.Second, 59*time.Second))
	wild := Learn(TorchPrior, heats(30*time.Second, 60*time.Second, 120*time.Second))
	require.Greater(t, wild.High/wild.Low, steady.High/steady.Low)
}

// One key pressed at the wrong moment does not spoil what steady heats taught.
func TestOneAbsurdHeatIsNoTorch(t *testing.T) {
	h := benchHeating(strip(t))
	h.Flame.H = 85
	took, err := h.Time(20, 550)
	require.NoError(t, err)
	steady := []Timed{{h, 20, 550, took * 97 / 100}, {h, 20, 550, took}, {h, 20, 550, took * 103 / 100}}
	without := Learn(TorchPrior, steady)
	cases := []struct {
		name, reason string
		took         time.Duration
	}{
		{"5 s", "the wrong key: a flame ten times as strong", 5 * time.Second},
		{"30 min", "the flame had gone out: one that hardly gets there", 30 * time.Minute},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			absurd, err := Timed{h, 20, 550, c.took}.H()
			require.NoError(t, err, "some torch explains it")
			require.Greater(t, math.Abs(math.Log(absurd/85)), farOff*scatter, c.reason)
			for place := range 4 {
				heats := slices.Insert(slices.Clone(steady), min(place, len(steady)), Timed{h, 20, 550, c.took})
				l := Learn(TorchPrior, heats)
				require.InEpsilon(t, without.H, l.H, 0.12, c.reason)
				require.True(t, l.Low < 85 && 85 < l.High, "the torch is still in the range: %+v", l)
				require.Less(t, l.High/l.Low, 3.0, "narrower than before any heat, 4: %+v", l)
			}
		})
	}
}

func TestMedian(t *testing.T) {
	for _, c := range []struct {
		all  []float64
		want float64
		why  string
	}{
		{[]float64{3}, 3, "one"},
		{[]float64{9, 1, 2}, 2, "the one in the middle"},
		{[]float64{9, 1, 2, 4}, 3, "between the two in the middle"},
	} {
		require.Equal(t, c.want, median(c.all), c.why)
	}
}

func TestLearnedNeverAndPerhapsNever(t *testing.T) {
	h := benchHeating(strip(t))
	low, likely, high, err := Learn(TorchPrior, nil).Time(h, 20, 640)
	require.NoError(t, err)
	require.Positive(t, low)
	require.Positive(t, likely)
	require.Zero(t, high, "with 50 W/m²K it rests below")
	_, _, _, err = Learn(TorchPrior, nil).Time(h, 20, 1100)
	require.ErrorIs(t, err, ErrNever)
	h.Flame.Faces = 7
	_, _, _, err = Learn(TorchPrior, nil).Time(h, 20, 600)
	require.ErrorContains(t, err, "1 face or 2")
}

// A torch away from equilibrium is one that still takes in, at the heat wanted, at
// least a third of what it took in at the start. Nearer, a small error of the flame
// is a large one in time, and no three heats tell.
const awayShare = 1.0 / 3

// torch is a simulated one: its strength and its flame are the same at every heat.
type torch struct {
	*rand.Rand
	flame Flame
}

// piece is a strip of silver in that flame and a heat for it, away from equilibrium.
func (r torch) piece(t *testing.T) (Heating, unit.Celsius) {
	for {
		thick := unit.Millimetre(0.5 + 4*r.Float64())
		b, err := BodyOf(silverA1, unit.Size{Shape: unit.Rectangular, Thick: thick, Width: 25}, 80)
		require.NoError(t, err)
		h := Heating{Body: b, Emissivity: 0.03 + 0.6*r.Float64(), Room: 20, Flame: r.flame}
		to := unit.Celsius(500 + 150*r.Float64())
		if rate := h.flow().rate; rate(float64(to)) > awayShare*rate(20) {
			return h, to
		}
	}
}

// heat is a heat of some piece as it is timed, 5 % off.
func (r torch) heat(t *testing.T) Timed {
	h, to := r.piece(t)
	d, err := h.Time(20, to)
	require.NoError(t, err)
	return Timed{h, 20, to, time.Duration(float64(d) * math.Exp(0.05*r.NormFloat64()))}
}

// After three timed heats of a torch the fourth, of another piece, is told within
// 10 %. Every heat differs by 5 % of its time (one standard deviation), the fourth
// as well, so that no way of telling comes to much above 9 in 10. The model itself
// is taken to be right: what this shows is how fast a torch is learned.
func TestFourthHeatIsTold(t *testing.T) {
	const torches = 400
	random, good := rand.New(rand.NewPCG(7, 11)), 0
	for range torches {
		r := torch{random, Flame{Temp: BenchFlame, H: 50 * math.Pow(4, random.Float64()), Faces: 1}}
		l := Learn(TorchPrior, []Timed{r.heat(t), r.heat(t), r.heat(t)})
		next := r.heat(t)
		_, likely, _, err := l.Time(next.Heating, next.From, next.To)
		if err == nil && math.Abs(likely.Seconds()/next.Took.Seconds()-1) <= 0.10 {
			good++
		}
	}
	t.Logf("%d of %d fourth heats told within 10 %%: %.1f %%", good, torches, 100*float64(good)/torches)
	require.GreaterOrEqual(t, float64(good)/torches, 0.85)
}
