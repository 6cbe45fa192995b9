package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// A piece is finished once, cold and out of the pickle; then it is worked no more until
// that is taken back.
func TestAcceptFinished(t *testing.T) {
	begun := start(wrought("AG925")).then(course(coldwork.Lengthen, bar(7.4, 7.6)))
	done := begun.then(schedule.Finished{})
	cases := []struct {
		name   string
		before story
		body   schedule.Body
		says   string // empty is taken
		reason string
	}{
		{"cold", begun, schedule.Finished{}, "", "nothing is under way"},
		{"hot", begun.all(nil, schedule.Begun{}, schedule.Out{}), schedule.Finished{}, "hot metal is not finished: whole is to be cooled first", "somebody would touch it"},
		{"in the pickle", begun.then(schedule.Pickled{}), schedule.Finished{}, "whole is in the pickle", "acid is left on it"},
		{"twice", done, schedule.Finished{}, "the piece is finished, by the entry ", "one of the two is a slip"},
		{"a course after it", done, course(coldwork.Lengthen, bar(7, 7)), "the piece is finished", "its record is closed"},
		{"a heat after it", done, schedule.Begun{}, "the piece is finished", "its record is closed"},
		{"weighed after it", done, schedule.Weighed{Mass: 70}, "", "the scales are used last"},
		{"a photo after it", done, schedule.Photo{Ref: "20"}, "", "so is the camera"},
		{"a crack after it", done, schedule.CrackSeen{}, "", "it may show later"},
		{"no weight", begun, schedule.Weighed{}, "0 g is not believable", "the scales show something"},
		{"part of it", begun, schedule.Weighed{Mass: 3, What: "dust"}, `"dust" is not something that is weighed`, "a part to come is of another version"},
		{"no photo", begun, schedule.Photo{Ref: " "}, "a photo without a number or a file", "nothing would be found by it"},
		{"a photo that moves the cursor", begun, schedule.Photo{Ref: "\x1b[2J"}, "does not print", "it is shown in a terminal"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			err := schedule.Accept(c.before, entryAt(len(c.before), c.body), c.before.now())
			if c.says == "" {
				require.NoError(t, err, c.reason)
				return
			}
			require.ErrorContains(t, err, c.says, c.reason)
		})
	}
}

// A finished piece asks for nothing, says what was lost, and reminds of the hallmark.
func TestAdviceOfAFinishedPiece(t *testing.T) {
	p := start(wrought("AG925")).then(schedule.Weighed{Mass: 77}).then(course(coldwork.Lengthen, bar(6, 6)))
	p = p.then(schedule.CrackSeen{}).then(schedule.Finished{})
	a := p.advice()
	require.Equal(t, schedule.VerdictFinished, a.Verdict, "an open crack is for the record")
	require.Equal(t, "finished: weigh it for its record, as dullred weigh does", a.Next)
	state := p.state()
	require.Equal(t, schedule.ActNone, state.NextAct(a))

	p = p.then(schedule.Weighed{Mass: 1.2, What: schedule.PartScrap}).then(schedule.Weighed{Mass: 74.9})
	a = p.advice()
	require.Equal(t, "finished: 74.9 g of 77 g, 0.9 g or 1.2 % lost", a.Next)
	require.Contains(t, a.Reasons, "At 74.9 g it needs a hallmark to be sold as silver in the United Kingdom, as all of 7.78 g or more do "+
		"(Hallmarking Act 1973, schedule 1 part II; in Ireland there is no least weight). Other countries differ: check your own assay office.")

	end := p[4]
	require.Equal(t, schedule.KindFinished, end.Kind())
	require.Contains(t, p.then(schedule.Finished{}).advice().Next, "it was finished 2 times: void all but one")
	require.Equal(t, schedule.VerdictFileCrack, p.then(schedule.Void{Target: end.ID}).advice().Verdict, "taken back, it is as it was")
	hot := p.then(schedule.Begun{}).advice()
	require.Equal(t, schedule.VerdictHeating, hot.Verdict, "another bench may have it in the flame, and that burns")
}

// What was lost is what went in and is neither in the piece nor kept.
func TestWeights(t *testing.T) {
	weighed := func(bodies ...schedule.Weighed) schedule.Weights {
		p := start(wrought("AG925"))
		for _, b := range bodies {
			p = p.then(b)
		}
		return p.state().Weights
	}
	_, _, ok := weighed().Lost()
	require.False(t, ok, "never weighed")
	once := weighed(schedule.Weighed{Mass: 77})
	_, _, ok = once.Lost()
	require.False(t, ok, "one weight loses nothing")
	require.EqualValues(t, 77, once.Latest())
	lost, share, ok := weighed(schedule.Weighed{Mass: 77}, schedule.Weighed{Mass: 76}, schedule.Weighed{Mass: 74.9}).Lost()
	require.True(t, ok)
	require.InDelta(t, 2.1, float64(lost), 1e-9)
	require.InDelta(t, 0.027, share, 0.0005, "77.0 g in and 74.9 g out are a loss of 2.7 %")
	lost, _, ok = weighed(schedule.Weighed{Mass: 77}, schedule.Weighed{Mass: 0.6, What: schedule.PartScrap},
		schedule.Weighed{Mass: 77}, schedule.Weighed{Mass: 0.5, What: schedule.PartScrap}).Lost()
	require.True(t, ok)
	require.InDelta(t, -1.1, float64(lost), 1e-9, "solder was added, or the scales are wrong: it is said as it is")
}

// The weights from which British law asks for a mark: 7.78 g of silver, 1 g of gold
// (Hallmarking Act 1973, schedule 1 part II, as amended).
func TestHallmark(t *testing.T) {
	cases := []struct {
		alloy  string
		weight float64
		says   string // empty is silence
		reason string
	}{
		{"AG925", 7.77, "At 7.77 g it is under the 7.78 g from which silver needs a hallmark", "just under"},
		{"AG925", 7.78, "At 7.78 g it needs a hallmark", "not under"},
		{"AG925", 0, "a piece of 7.78 g or more needs a hallmark", "not weighed"},
		{"18k yellow", 0.99, "At 0.99 g it is under the 1 g from which gold needs a hallmark", "gold"},
		{"C11000", 500, "", "copper is not precious"},
		{"pewter", 500, "", "pewter is not precious"},
	}
	for _, c := range cases {
		t.Run(c.alloy+" "+c.reason, func(t *testing.T) {
			p := start(wrought(c.alloy))
			if c.weight > 0 {
				p = p.then(schedule.Weighed{Mass: unit.Gram(c.weight)})
			}
			state := p.state()
			require.Empty(t, state.Silenced)
			if c.says == "" {
				require.Empty(t, state.Hallmark(), c.reason)
				return
			}
			require.Contains(t, state.Hallmark(), c.says, c.reason)
			require.Contains(t, state.Hallmark(), "check your own assay office")
		})
	}
}
