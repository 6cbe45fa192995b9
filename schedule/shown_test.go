package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/schedule"
)

// Outside check (standard): ids that follow from a text, RFC 9562.
func TestDerivedID(t *testing.T) {
	a := schedule.DerivedID("cause", schedule.KindRaised)
	require.Equal(t, a, schedule.DerivedID("cause", schedule.KindRaised), "one cause, one entry")
	require.NotEqual(t, a, schedule.DerivedID("cause", schedule.KindShown))
	require.NotEqual(t, a, schedule.DerivedID("cause ", schedule.KindRaised))
	require.Equal(t, schedule.ID("22047f8d-c530-585c-9b84-50164054017b"), a, "as RFC 9562 makes version 5 of the text; records hold it")
}

func TestNewIDsAreInOrder(t *testing.T) {
	last := schedule.ID("")
	for range 1000 {
		id := schedule.NewID()
		require.Greater(t, id, last, "entries of one instant keep the order in which they were made")
		last = id
	}
}

func TestKeepWhatWasShown(t *testing.T) {
	h := taper()
	pass, a := h[len(h)-1], h.advice()
	typed := pass.At.Add(time.Hour + time.Nanosecond)
	e := a.Keep(pass, typed)
	require.Equal(t, schedule.Entry{ID: schedule.DerivedID(string(pass.ID), schedule.KindShown), At: pass.At.Add(time.Microsecond),
		Written: pass.At.Add(time.Hour), Bench: bench, Hand: hand, Piece: piece, Version: 1,
		Body: schedule.Shown{After: pass.ID, Verdict: schedule.VerdictAnnealNow, Zone: "tip", Worked: float64(a.Worked()),
			Spent: a.Spent, Limit: float64(a.Limit.Strain), Table: alloys.Version()}}, e)
	require.Equal(t, e.ID, a.Keep(pass, typed.Add(time.Hour)).ID, "kept once for a pass")
	require.NoError(t, schedule.Accept(h, e, h.now()))
	back, err := schedule.Decode(encode(t, e))
	require.NoError(t, err)
	require.Equal(t, e, back)
}

// alerted is the story with the alert its advice raises, if it raises one.
func alerted(t *testing.T, h story) (story, bool) {
	s := h.state()
	e, ok := h.advice().Alert(&s, h[len(h)-1], h.now(), h)
	if !ok {
		return h, false
	}
	require.NoError(t, schedule.Accept(h, e, h.now()))
	return append(append(story{}, h...), e), true
}

// An alert rings once for each interval between two anneals, and again when the
// verdict gets worse; never at every pass.
func TestAlertIsRaisedOnce(t *testing.T) {
	h := start(cast("AG925"))
	h, rung := alerted(t, h)
	require.False(t, rung, "carry on calls nobody")

	for _, c := range []struct {
		name, reason string
		body         []schedule.Body
		want         bool
		verdict      schedule.Verdict
	}{
		{"soon", "the first time", []schedule.Body{drawnBy(0.12)}, true, schedule.VerdictAnnealSoon},
		{"still soon", "it rang for that", []schedule.Body{schedule.Note{Text: "n"}}, false, 0},
		{"now", "worse than soon", []schedule.Body{drawnBy(0.25)}, true, schedule.VerdictAnnealNow},
		{"still now", "it rang for that", []schedule.Body{unread("lengthen", 1)}, false, 0},
		{"in the flame", "the smith is at it", []schedule.Body{schedule.Begun{}}, false, 0},
		{"springy, still now", "the same interval", []schedule.Body{schedule.Quenched{}, schedule.Springy{}}, false, 0},
		{"proved, worn again", "a new interval", []schedule.Body{schedule.Begun{}, schedule.Soft{}, drawnBy(0.9)}, true, schedule.VerdictAnnealNow},
		{"a crack", "the screen says so, and the sum does not call", []schedule.Body{schedule.CrackSeen{}}, false, 0},
	} {
		require.NotEmpty(t, c.reason)
		h = h.all(nil, c.body...)
		h, rung = alerted(t, h)
		require.Equal(t, c.want, rung, "%s: %s", c.name, c.reason)
		if rung {
			raised := h[len(h)-1].Body.(schedule.Raised)
			require.Equal(t, c.verdict, raised.Verdict, c.name)
		}
		_, again := alerted(t, h)
		require.False(t, again, "%s: raised already", c.name)
	}
}

// Two windows that find the same cause make the same entry.
func TestAlertHasOneID(t *testing.T) {
	h := taper()
	s, a := h.state(), h.advice()
	one, ok := a.Alert(&s, h[5], h.now(), h)
	require.True(t, ok)
	two, _ := a.Alert(&s, h[3], h.now().Add(time.Hour), h)
	require.Equal(t, one.ID, two.ID)
	require.Equal(t, []string{"tip"}, one.Zones)
	require.Equal(t, string(piece)+"/tip/"+string(idOf(0))+"/anneal now", one.Body.(schedule.Raised).Cause, "since the piece was started")
	require.Equal(t, h[5].At.Add(2*time.Microsecond), one.At, "behind the pass and the advice")
	back, err := schedule.Decode(encode(t, one))
	require.NoError(t, err)
	require.Equal(t, one, back)
}

func TestUnacknowledged(t *testing.T) {
	h := taper()
	alert := entryAt(10, schedule.Raised{Cause: "a", Verdict: schedule.VerdictAnnealSoon}, "tip")
	later := entryAt(11, schedule.Raised{Cause: "b", Verdict: schedule.VerdictAnnealNow}, "tip")
	ack := schedule.Acknowledge(alert, bench, hand, evening.Add(12*time.Minute+time.Nanosecond))
	for _, c := range []struct {
		name, reason string
		entries      story
		want         []schedule.Entry
	}{
		{"none", "nothing rang", h, nil},
		{"two", "oldest first, whatever the order of the record", append(story{later, alert}, h...), []schedule.Entry{alert, later}},
		{"one acknowledged", "the other still calls", story{ack, alert, later}, []schedule.Entry{later}},
		{"acknowledged twice", "once is enough", story{alert, ack, ack}, nil},
		{"acknowledgement voided", "then it was not", story{alert, ack, entryAt(14, schedule.Void{Target: ack.ID})}, []schedule.Entry{alert}},
		{"alert voided", "taken back", story{alert, entryAt(14, schedule.Void{Target: alert.ID})}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, schedule.Unacknowledged(c.entries), c.reason)
		})
	}
}

func TestAcknowledge(t *testing.T) {
	alert := entryAt(10, schedule.Raised{Cause: "a"}, "tip")
	at := evening.Add(12*time.Minute + time.Nanosecond)
	e := schedule.Acknowledge(alert, bench, hand, at)
	require.Equal(t, schedule.Entry{ID: schedule.DerivedID(string(alert.ID), schedule.KindAcknowledged),
		At: evening.Add(12 * time.Minute), Written: evening.Add(12 * time.Minute), Bench: bench, Hand: hand, Piece: piece,
		Zones: []string{"tip"}, Version: 1, Body: schedule.Acknowledged{Alert: alert.ID}}, e)
	require.Equal(t, e.ID, schedule.Acknowledge(alert, hand, bench, at.Add(time.Hour)).ID, "one alert, one acknowledgement")
}
