package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/split"
)

// fromMelt is a bar of a stock.
func fromMelt(stock string) schedule.Started {
	s := wrought("AG925")
	s.Stock = stock
	return s
}

// history is what other pieces of a stock came to.
func ofMelt(stock string, intervals ...split.Interval) *schedule.Observed {
	o := &schedule.Observed{}
	for _, i := range intervals {
		o.Intervals = append(o.Intervals, schedule.Interval{Interval: i, Alloy: "AG925", Stock: stock, Condition: alloys.Wrought})
	}
	return o
}

func splitAt(strains ...unit.Strain) (all []split.Interval) {
	for _, e := range strains {
		all = append(all, split.Interval{Strain: e, Split: true})
	}
	return all
}

func loosenedBy(stock string, held bool, at int) schedule.Entry {
	e := entryAt(at, schedule.Loosened{Alloy: "AG925", Stock: stock, Condition: alloys.Wrought, Held: held})
	return e
}

func TestTheLimitOfAStock(t *testing.T) {
	const published = 0.6903
	good := splitAt(1.19, 1.24, 1.22)
	for _, c := range []struct {
		name, reason, stock string
		others              *schedule.Observed
		least, most         float64
	}{
		{"nothing known", "the published limit", "melt 7", nil, published, published},
		{"weak", "it tightens by itself", "melt 7", ofMelt("melt 7", splitAt(0.6, 0.62)...), 0.3, 0.6},
		{"named in another case", "one stock", "melt 7", ofMelt("Melt 7", splitAt(0.6, 0.62)...), 0.3, 0.6},
		{"another stock", "says nothing of this one", "melt 7", ofMelt("melt 8", splitAt(0.6, 0.62)...), published, published},
		{"no name", "nobody said where it is from", "", ofMelt("", splitAt(0.6, 0.62)...), published, published},
		{"good", "no further than published until the smith says so", "melt 7", ofMelt("melt 7", good...), published, published},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := start(fromMelt(c.stock)).state()
			a := s.Advise(evening, c.others)
			require.GreaterOrEqual(t, float64(a.Limit.Strain), c.least-5e-5, c.reason)
			require.LessOrEqual(t, float64(a.Limit.Strain), c.most+5e-5, c.reason)
			require.Equal(t, c.least < published, a.Limit.Learned != "")
			if a.Limit.Learned != "" {
				require.Contains(t, saying(a), "learned of this stock, tighter than the 45 % of thickness that is published: of 2 intervals 2 cracked")
			}
		})
	}
}

// Who takes a smaller risk is warned earlier.
func TestTheRiskIsTheSmiths(t *testing.T) {
	s := start(fromMelt("melt 7")).state()
	usual, careful := ofMelt("melt 7", splitAt(0.6, 0.62)...), ofMelt("melt 7", splitAt(0.6, 0.62)...)
	careful.Risk = 0.005
	a := s.Advise(evening, careful)
	require.Less(t, a.Limit.Strain, s.Advise(evening, usual).Limit.Strain)
	require.Contains(t, a.Limit.Learned, "0.5 % would not survive more")
}

// It goes beyond the published limit by the smith's word, until that is taken back.
func TestTheWordOfTheSmithLoosens(t *testing.T) {
	s := start(fromMelt("melt 7")).state()
	good := ofMelt("melt 7", splitAt(1.19, 1.24, 1.22)...)
	limit := func(words ...schedule.Entry) unit.Strain {
		o := *good
		o.Words = words
		return s.Advise(evening, &o).Limit.Strain
	}
	published := limit()
	require.Greater(t, limit(loosenedBy("MELT 7", false, 1)), published)
	require.Equal(t, published, limit(loosenedBy("melt 8", false, 1)), "of another stock")
	require.Equal(t, published, limit(loosenedBy("melt 7", true, 2), loosenedBy("melt 7", false, 1)), "taken back")
	require.Greater(t, limit(loosenedBy("melt 7", true, 1), loosenedBy("melt 7", false, 2)), published, "the last word counts")
	void := entryAt(9, schedule.Void{Target: idOf(1)})
	require.Equal(t, published, limit(loosenedBy("melt 7", false, 1), void), "a word that is void was not said")

	s2 := start(fromMelt("melt 7")).state()
	poor := ofMelt("melt 7", splitAt(0.6, 0.62)...)
	poor.Words = []schedule.Entry{loosenedBy("melt 7", false, 1)}
	require.Less(t, s2.Advise(evening, poor).Limit.Strain, published, "no word keeps a weak stock from tightening")
}

// The piece itself is of its stock, named or not.
func TestAPieceLearnsFromItself(t *testing.T) {
	h := start(wrought("AG925")).then(course(coldwork.Lengthen, sides(6.3))).then(schedule.CrackSeen{}).then(schedule.CrackFiled{}).annealed()
	a := h.advice()
	require.Less(t, float64(a.Limit.Strain), 0.69)
	require.Contains(t, saying(a), "of 1 interval 1 cracked")
	other := start(wrought("AG925")).then(course(coldwork.Lengthen, sides(6.3))).annealed()
	require.InDelta(t, 0.6903, float64(other.advice().Limit.Strain), 5e-5, "whole it says nothing that tightens")
}

// What was said once stays said until an interval is added: a fold that goes on and one
// from the start give the same.
func TestALimitThatIsRememberedIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := rapid.SampledFrom([]string{"", "melt 7"}).Draw(t, "stock")
		p := schedule.NewPiece(nil, start(fromMelt(stock)))
		h := start(fromMelt(stock))
		var others *schedule.Observed
		for range rapid.IntRange(1, 8).Draw(t, "steps") {
			before := p
			next := h
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0:
				next = h.then(course(coldwork.Lengthen, sides(unit.Millimetre(rapid.Float64Range(3, 8).Draw(t, "to")))))
			case 1:
				next = h.then(schedule.CrackSeen{})
			case 2:
				next = h.annealed()
			case 3:
				others = ofMelt("melt 7", splitAt(unit.Strain(rapid.Float64Range(0.1, 1.5).Draw(t, "split")))...)
			}
			was := before.State.Advise(evening, others).Limit
			for _, e := range next[len(h):] {
				p.Add(e)
			}
			h = next
			fresh := h.state()
			require.Equal(t, fresh.Advise(evening, others).Limit, p.State.Advise(evening, others).Limit)
			require.Equal(t, was, before.State.Advise(evening, others).Limit, "the copy before keeps its own")
		}
	})
}

// A test piece is worked to its split; no limit stops it, and it teaches.
func TestATestPiece(t *testing.T) {
	test := fromMelt("melt 7")
	test.Test = true
	h := start(test).then(course(coldwork.Lengthen, sides(4.4)))
	a := h.advice()
	require.Equal(t, schedule.VerdictCarryOn, a.Verdict)
	require.Greater(t, a.Spent, 1.0)
	require.Contains(t, a.Next, "until it splits")
	require.Contains(t, a.Cautions, "It will split: eyes covered, nobody else near, fingers clear of its ends.")
	done := h.then(schedule.CrackSeen{})
	require.Contains(t, done.advice().Next, "the test is done: it split at strain 1.19")
	got := done.state().Intervals
	require.Len(t, got, 1)
	require.True(t, got[0].Test && got[0].Split)
}

func TestASignSaysWhatItHasMeant(t *testing.T) {
	o := &schedule.Observed{}
	for range 6 {
		o.Heard = append(o.Heard, schedule.Heard{Sign: schedule.SignRings, Hand: hand, Share: 0.65})
	}
	told := func(h story) string {
		s := h.state()
		s.Learn(o)
		return saying(s.Advise(h.now(), o))
	}
	late := start(wrought("AG925")).then(course("lengthen", sides(6.3))).then(schedule.Signalled{Sign: schedule.SignRings})
	require.Contains(t, told(late), `your "rings" has meant 65 to 65 % of the limit, heard 7 times`)
	early := start(wrought("AG925")).then(course("lengthen", sides(7.4))).then(schedule.Signalled{Sign: schedule.SignRings})
	require.Contains(t, told(early), "now it came at 23 %: the metal may be further than the sum says, read it")
	require.NotContains(t, told(late), "now it came at")
	require.NotContains(t, told(late.annealed()), "rings", "soft metal begins anew")
}

func TestOddDataIsLeftOutWithAWord(t *testing.T) {
	begin := start(fromMelt("melt 7"))
	rush := begin
	for range 10 {
		rush = rush.then(schedule.Pass{Process: coldwork.Lengthen, Count: 1000})
		rush[len(rush)-1].At = begin.now().Add(time.Second)
	}
	rush = rush.then(schedule.Measured{Reading: sides(6)}).annealed()
	back := begin.then(course(coldwork.Lengthen, sides(7)))
	back = append(back, entryAt(len(back)+1, schedule.ClockStep{Wall: -time.Hour})).then(course(coldwork.Lengthen, sides(6.5))).annealed()
	for _, c := range []struct {
		name, reason, why string
		story             story
		courses           int
	}{
		{"ten thousand courses in a minute", "a stuck key", "more than 100 courses within a minute: nobody hammers so fast", rush, 0},
		{"a clock set back", "the order is not sure", "a clock was set back while it was worked", back, 1},
		{"a split without strain", "a flaw", "split without any strain", begin.then(schedule.CrackSeen{}), 0},
		{"one blow that does it all", "a slip of the keys", "", begin.then(course(coldwork.Lengthen, sides(3))).annealed(), 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := c.story.state()
			require.Empty(t, s.Silenced)
			require.Len(t, s.Courses, c.courses)
			require.Len(t, s.Intervals, 1)
			require.Contains(t, s.Intervals[0].Doubt, c.why)
			if c.why != "" {
				require.InDelta(t, 0.6903, float64(s.Advise(c.story.now(), nil).Limit.Strain), 5e-5, "it is not averaged in")
			}
			if c.courses == 0 && c.story[len(c.story)-1].Kind() != schedule.KindCrackSeen {
				require.Len(t, s.LeftOut, 1)
				require.NotEmpty(t, s.LeftOut[0].Why)
			}
			after := c.story.annealed().then(course(coldwork.Lengthen, sides(2.8))).annealed().state()
			require.Empty(t, after.Intervals[len(after.Intervals)-1].Doubt, "the next interval counts again")
		})
	}
}
