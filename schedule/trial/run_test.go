package trial

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

// few is a shop with so many pieces that a test can wait for it.
func few(s Shop, pieces int) Shop {
	s.Pieces, s.Hands = pieces, min(s.Hands, pieces, 100)
	return s
}

// One run of 2,000 pieces. At 8.5 heats some 50 of them split by the measured rule,
// so that a ratio there is uncertain by about a tenth; that tenth is the slack of
// every figure here. The full trial of 20,000 pieces is BenchmarkTrial20000.
func TestWhatTheAdviceIsWorth(t *testing.T) {
	const slack = 0.1
	r := Run(few(Usual(), 2000))
	for _, c := range []struct {
		policy string
		most   float64
		reason string
	}{
		{Stranger, 1.15, "one limit for all stocks is no better than one reduction for all"},
		{Unseen, 1.15, "nor is one limit that was learned"},
		{Ten, 0.95, "a first split is seen"},
		{TenUnseen, 0.95, "and the rest is like other stocks"},
		{Hundred, 0.70, "weak stocks are known"},
		{HundredTo45, 0.70, "and better, where some were worked further"},
		{Three, 0.70, "three scraps split say as much as a hundred intervals"},
		{To45Loose, 0.70, "strong stocks save the heats"},
	} {
		t.Run(c.policy, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			found := r.Comparison(c.policy)
			require.Len(t, found.Ratios, compared+1, "all along the heats")
			require.LessOrEqual(t, found.Worst, c.most+slack, c.reason)
			for i, ratio := range found.Ratios {
				require.GreaterOrEqual(t, ratio.Law, 1-2*slack, "none beats the true law")
				require.Equal(t, r.Comparison(Measured).Ratios[i].Rule, ratio.Rule)
			}
		})
	}
	require.Greater(t, r.Comparison(Counted).Best, 1.5, "counting courses is worst of all")
	seeing := r.Policy(Oracle).Points[0]
	require.Less(t, seeing.Heats, r.Shop.From)
	require.Less(t, seeing.Split, 30.0)
}

// The shop stiffens its metal as coldwork reckons it does, and the predictions come
// true. They are asked of shops that stiffen otherwise too: what is printed there is
// how wrong they are when the assumption is.
func TestForecastsOfTheTrial(t *testing.T) {
	for _, c := range []struct {
		name        string
		stiff       float64
		least, most float64
		reason      string
	}{
		{"as reckoned", 0.5, 0.05, 0.15, "they come true as they were said"},
		{"twice as stiff", 1, 0.02, 0.15, "they err early"},
		{"not stiff at all", 0, 0.05, 0.20, "they err late, by half at most"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := few(Usual(), 1000)
			s.Stiff = c.stiff
			f := newTrial(&s).calibration().Forecasts
			require.Greater(t, f.Predictions, 200)
			t.Logf("%.1f %% said, %.1f %% came true, %.0f %% of the ranges held", 100*f.Predicted, 100*f.Crossed, 100*f.Contained)
			require.GreaterOrEqual(t, f.Crossed, c.least, c.reason)
			require.LessOrEqual(t, f.Crossed, c.most, c.reason)
			require.GreaterOrEqual(t, f.Contained, 0.80)
		})
	}
}

func TestLimitsComeTrueAsTheyAreLearned(t *testing.T) {
	risk := map[string]float64{}
	for _, l := range Run(few(Usual(), 400)).Calibration.Limits {
		risk[l.Policy] = l.True
	}
	require.Greater(t, risk[Stranger], 0.10, "the published limit is too daring for this shop")
	require.Less(t, risk[Unseen], risk[Stranger]/2, "other stocks have shown it")
	require.Less(t, risk[TenUnseen], risk[Ten])
	require.Less(t, risk[Ten], risk[Stranger])
	require.Less(t, risk[Hundred], risk[Ten])
	require.InDelta(t, 0.02, risk[HundredTo45], 0.015)
	require.InDelta(t, 0.02, risk[TenAndThree], 0.015)
}

// Every policy grows more daring from point to point: fewer heats, and fewer splits
// only by luck, of which two pieces of the 300 are allowed.
func TestPointsGrowMoreDaring(t *testing.T) {
	for _, p := range Run(few(Good(), 300)).Policies {
		for i := 1; i < len(p.Points); i++ {
			require.LessOrEqual(t, p.Points[i].Heats, p.Points[i-1].Heats+0.01, p.Name)
			require.GreaterOrEqual(t, p.Points[i].Split, p.Points[i-1].Split-7, p.Name)
		}
	}
}

func TestTheSameShopGivesTheSameResult(t *testing.T) {
	s := few(Usual(), 60)
	first := Run(s)
	require.Equal(t, first, Run(s))
	s.Seed++
	require.NotEqual(t, first.Policies, Run(s).Policies)
}

// A shop in which nothing varies and nothing is misread is still a shop.
func TestShopWithoutChance(t *testing.T) {
	s := few(plain(), 10)
	r := Run(s)
	for _, p := range r.Policies {
		for _, at := range p.Points {
			require.True(t, at.Split == 0 || at.Split == 1000, "%s: all pieces are alike", p.Name)
		}
	}
	require.Equal(t, Point{Courses: 3, Heats: 13}, r.Policy(Counted).Points[1], "13 intervals of 0.3 and one of 0.1")
	_, err := json.Marshal(r)
	require.NoError(t, err, "no figure is wild")
}

func TestResultIsShown(t *testing.T) {
	r := Run(few(Usual(), 100))
	text, err := json.Marshal(r)
	require.NoError(t, err)
	var back Result
	require.NoError(t, json.Unmarshal(text, &back))
	require.Equal(t, r, back)
	for _, p := range r.Policies {
		require.Contains(t, r.Table(), p.Name)
	}
	for _, p := range plotted {
		require.NotEmpty(t, r.Policy(p.name).Points, p.name)
	}
	for line := range strings.Lines(r.Plot()) {
		require.LessOrEqual(t, utf8.RuneCountInString(line), 70)
	}
}

func TestShopsThatMakeNoSense(t *testing.T) {
	for name, spoil := range map[string]func(*Shop){
		"no pieces":           func(s *Shop) { s.Pieces = 0 },
		"more hands":          func(s *Shop) { s.Hands = s.Pieces + 1 },
		"no hands":            func(s *Shop) { s.Hands = 0 },
		"no strain":           func(s *Shop) { s.Total = 0 },
		"scale not a number":  func(s *Shop) { s.Scale = -1 },
		"infinite shape":      func(s *Shop) { s.Shape = math.Inf(1) },
		"spread not a number": func(s *Shop) { s.Stocks = math.NaN() },
		"no course":           func(s *Shop) { s.Course = 0 },
		"thin courses":        func(s *Shop) { s.Course = 1e-9 },
		"no published limit":  func(s *Shop) { s.Published = 0 },
		"wild hands":          func(s *Shop) { s.Hand = 5 },
		"softening":           func(s *Shop) { s.Stiff = -1 },
		"untaught":            func(s *Shop) { s.Taught = 0 },
	} {
		s := Usual()
		spoil(&s)
		r := Run(s)
		require.Empty(t, r.Policies, name)
		require.Empty(t, r.Table()+r.Plot(), name)
	}
}
