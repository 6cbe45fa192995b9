package alert

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

const (
	benchID = schedule.ID("0198f4b6-0000-7000-8000-0000000000b0")
	handID  = schedule.ID("0198f4b6-0000-7000-8000-0000000000a0")
	pieceID = schedule.ID("0198f4b6-0000-7000-8000-0000000000c0")
)

var start = time.Date(2026, time.March, 6, 17, 0, 0, 0, time.UTC)

// tale is a piece told entry by entry, each at its own time after the start.
type tale struct {
	entries []schedule.Entry
	n       int
}

func begin(alloy, size string) *tale {
	section, err := unit.ParseSize(size, unit.Unshaped)
	if err != nil {
		panic(err)
	}
	return (&tale{}).at(0, schedule.Started{Alloy: alloy, Calliper: 0.1, Reading: schedule.Reading{Size: section}})
}

func (h *tale) at(after time.Duration, b schedule.Body) *tale {
	h.n++
	id := schedule.ID(fmt.Sprintf("0198f4b6-0000-7000-8000-%012d", h.n))
	at := start.Add(after)
	h.entries = append(h.entries, schedule.Entry{ID: id, At: at, Written: at, Bench: benchID, Hand: handID, Piece: pieceID, Version: 1, Body: b})
	return h
}

func (h *tale) pieces(now time.Time) []Piece {
	s := schedule.Fold(h.entries)
	return []Piece{{Name: "spoon", State: &s, Advice: s.Advise(now, nil)}}
}

func (h *tale) find(after time.Duration) []Alert {
	now := start.Add(after)
	return Find(h.pieces(now), Bench{ID: benchID, State: schedule.FoldBench(benchID, h.entries), Limits: Usual()}, now)
}

func course(size string) schedule.Body {
	section, err := unit.ParseSize(size, unit.Unshaped)
	if err != nil {
		panic(err)
	}
	return schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: schedule.Reading{Size: section}}
}

func causes(all []Alert) string {
	var names []string
	for _, a := range all {
		names = append(names, string(a.Cause))
	}
	return strings.Join(names, ", ")
}

const minute = time.Minute

// Outside check (standard): when the ears have had enough, NIOSH 98-126.
func TestFind(t *testing.T) {
	in := func(bodies ...schedule.Body) *tale { // a minute apart
		h := begin("AG925", "6x6")
		for i, b := range bodies {
			h.at(time.Duration(i+1)*minute, b)
		}
		return h
	}
	cases := []struct {
		name, reason string
		tale         *tale
		after        time.Duration
		want         string
	}{
		{"at work", "nothing to tell", in(course("5.8x5.9")), 2 * minute, ""},
		{"soon", "the next course may cross", in(course("4.4x5.4")), 2 * minute, "anneal soon"},
		{"now", "the limit is spent", in(course("3x5")), 2 * minute, "anneal now"},
		{"in the flame", "the smith is there", in(schedule.Begun{}), 6 * minute, ""},
		{"in the flame too long", "it never got there", in(schedule.Begun{}), 11 * minute, "heat overrun"},
		{"soaking", "not yet", in(schedule.Begun{}, schedule.Reached{}), 2*minute + 59*time.Second, ""},
		{"soak over", "a prompt", in(schedule.Begun{}, schedule.Reached{}), 3 * minute, "soak over"},
		{"soak overrun", "coarse grain", in(schedule.Begun{}, schedule.Reached{}), 7 * minute, "soak over, heat overrun"},
		{"out", "too hot to quench", in(schedule.Begun{}, schedule.Out{}), 2*minute + 15*time.Second, ""},
		{"may be quenched", "a prompt", in(schedule.Begun{}, schedule.Out{}), 2*minute + 16*time.Second, "quench ready"},
		{"quench window", "the smith has had twenty seconds", in(schedule.Begun{}, schedule.Out{}), 2*minute + 36*time.Second, "quench ready, quench now"},
		{"hot and left", "somebody will touch it", in(schedule.Begun{}, schedule.Out{}), 12 * minute, "quench ready, quench now, hot piece left"},
		{"pickled", "a prompt", in(schedule.Pickled{}), 11 * minute, "pickle ready"},
		{"forgotten in the pickle", "it attacks the joints", in(schedule.Pickled{}), 63 * time.Hour, "pickle ready, pickle overdue"},
		{"cracked", "file it out", in(schedule.CrackSeen{}), 2 * minute, "crack open"},
		{"crack filed", "done", in(schedule.CrackSeen{}, schedule.CrackFiled{}), 3 * minute, ""},
		{"torch", "just lit", in(schedule.TorchLit{}), 5 * minute, ""},
		{"torch left", "nothing in the flame", in(schedule.TorchLit{}), 11 * minute, "torch left lit"},
		{"torch in use", "metal in the flame", in(schedule.TorchLit{}, schedule.Begun{}), 11*minute + 30*time.Second, ""},
		{"torch after a heat", "counted from the last metal in it", in(schedule.TorchLit{}, schedule.Begun{}, schedule.Out{}), 12 * minute, "quench ready, quench now"},
		{"fire watch", "not over", in(schedule.TorchLit{}, schedule.TorchOut{}), 61 * minute, ""},
		{"fire watch over", "an hour after the last flame", in(schedule.TorchLit{}, schedule.TorchOut{}), 62 * minute, "fire watch over"},
		{"fire watch long over", "of no use to anybody the day after", in(schedule.TorchLit{}, schedule.TorchOut{}), 20 * time.Hour, ""},
		{"ears", "94 dB(A) is an hour: NIOSH 98-126, T = 480 / 2^((L-85)/3) min", in(schedule.Noise{Level: 94}), 61 * minute, "ears"},
		{"ears, a minute before", "", in(schedule.Noise{Level: 94}), 60 * minute, ""},
		{"ears in quiet", "it has stopped", in(schedule.Noise{Level: 94}, schedule.Noise{}), 3 * time.Hour, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, causes(c.tale.find(c.after)), c.reason)
		})
	}
}

func TestBrassCoolsByItself(t *testing.T) {
	h := begin("C26000", "6x6").at(minute, schedule.Begun{}).at(2*minute, schedule.Out{})
	require.Empty(t, h.find(100*minute), "it takes its time in the air")
	require.Equal(t, "hot piece left", causes(h.find(122*minute)))
}

// NIOSH 98-126, Table 1-1: the durations for 85, 88, 91, 94, 97 and 100 dB(A).
//
// Outside check (standard): durations of noise, NIOSH 98-126, Table 1-1.
func TestEarsAgainstTheTable(t *testing.T) {
	for level, hours := range map[float64]float64{85: 8, 88: 4, 91: 2, 94: 1, 97: 0.5, 100: 0.25} {
		require.Equal(t, hours, schedule.Noise{Level: level}.Allowed().Hours(), "%g dB(A)", level)
	}
	require.Zero(t, schedule.Noise{Level: 70}.Allowed())
}

// What became due is found the same however often and however late it is looked for.
func TestKeysAreStable(t *testing.T) {
	h := begin("AG925", "6x6").at(minute, schedule.Begun{}).at(2*minute, schedule.Out{})
	one, other := h.find(13*minute), h.find(40*time.Hour)
	require.Equal(t, one, other)
	require.Equal(t, start.Add(2*minute+16*time.Second), one[0].Due)
	by := Writer{Bench: benchID, Hand: handID, Now: start.Add(13 * minute)}
	raised := Unraised(one, h.entries, by)
	require.Len(t, raised, 2)
	require.Empty(t, Unraised(other, append(h.entries, raised...), by), "raised once")
	require.Empty(t, Unraised(append(one, one...), append(h.entries, raised...), by))
	require.Len(t, Unraised(append(one, one...), h.entries, by), 2, "and once in one go")
}

// The alert of a course is the one that the course itself raised.
func TestWorkAlertIsTheCoursesOwn(t *testing.T) {
	h := begin("AG925", "6x6").at(minute, course("3x5"))
	s := schedule.Fold(h.entries)
	pass := h.entries[1]
	own := s.Advise(pass.At, nil).Follow(&s, pass, pass.At, h.entries)
	require.Len(t, own, 3)
	require.Empty(t, Unraised(h.find(2*minute), own, Writer{Bench: benchID, Hand: handID}))
}

func stand(h *tale, after, from time.Duration) []Standing {
	return Stand(h.find(after), h.entries, start.Add(from))
}

// raise writes what is due a while after the start.
func (h *tale) raise(after time.Duration) *tale {
	by := Writer{Bench: benchID, Hand: handID, Now: start.Add(after)}
	h.entries = append(h.entries, Unraised(h.find(after), h.entries, by)...)
	return h
}

func (h *tale) ack(after time.Duration) *tale {
	for _, s := range stand(h, after, 0) {
		h.entries = append(h.entries, schedule.Acknowledge(s.Raised, benchID, handID, start.Add(after)))
	}
	return h
}

func TestLatch(t *testing.T) {
	h := begin("AG925", "6x6").at(minute, schedule.Pickled{})
	require.Empty(t, stand(h, 40*minute, 0), "nothing is shown before it is written")
	h.raise(40 * minute)
	require.Len(t, stand(h, 40*minute, 0), 1)
	h.at(50*minute, schedule.Rinsed{})
	over := stand(h, 51*minute, 0)
	require.Len(t, over, 1, "over, but nobody has seen it")
	require.Contains(t, over[0].Sentence(), "(over now)")
	h.ack(52 * minute)
	require.Empty(t, stand(h, 53*minute, 0), "seen and over")

	h = begin("AG925", "6x6").at(minute, schedule.Pickled{}).raise(40 * minute).ack(41 * minute)
	seen := stand(h, 42*minute, 0)
	require.Len(t, seen, 1, "seen, but it still holds")
	require.True(t, seen[0].Acked)
}

// A call is answered by what it calls for.
func TestCallsAreAnsweredByTheAct(t *testing.T) {
	h := begin("AG925", "6x6").at(minute, course("3x5")).raise(2 * minute)
	require.Len(t, stand(h, 2*minute, 0), 1)
	h.at(3*minute, schedule.Begun{})
	require.Empty(t, stand(h, 4*minute, 0))
	h.at(5*minute, schedule.Out{}).raise(6 * minute)
	require.Equal(t, QuenchNow, stand(h, 6*minute, 0)[0].Cause)
	h.at(7*minute, schedule.Quenched{})
	require.Empty(t, stand(h, 8*minute, 0))
	h = begin("AG925", "6x6").at(minute, schedule.Begun{}).raise(12*minute).at(13*minute, schedule.Out{})
	require.Len(t, stand(h, 13*minute, 0), 1, "danger is not answered, it is seen")
}

// Friday 17:40 into the pickle, Monday 09:00 back: one line with how late.
func TestLateOverTheWeekend(t *testing.T) {
	in := 40 * minute
	back := 64 * time.Hour // Monday 09:00
	h := begin("AG925", "6x6").at(in, schedule.Pickled{})
	h.raise(back)
	all := stand(h, back, back)
	require.Len(t, all, 1)
	require.Equal(t, "NOTE: PICKLE OVERDUE - spoon, late by 62 h 50 min.", all[0].Sentence())
}

// Raised, shown, and the power went half a second later: on the restart the same
// alert says how late it is.
func TestLateAfterAPowerCut(t *testing.T) {
	h := begin("AG925", "6x6").at(minute, course("3x5")).raise(minute)
	at := h.entries[1].At
	again := at.Add(6*minute + 12*time.Second)
	all := Stand(h.find(again.Sub(start)), h.entries, again)
	require.Equal(t, "ACT: ANNEAL NOW - spoon, late by 6 min 12 s.", all[0].Sentence())
	require.Zero(t, Stand(h.find(2*minute), h.entries, start)[0].Late, "told at once")
}

func TestUrgencyFirst(t *testing.T) {
	h := begin("AG925", "6x6").at(minute, schedule.CrackSeen{}).at(2*minute, schedule.TorchLit{}).raise(15 * minute)
	all := stand(h, 15*minute, 0)
	require.Len(t, all, 2)
	require.Equal(t, TorchLeft, all[0].Cause, "danger before a note, though it is younger")
}

func TestFloodIsOneLine(t *testing.T) {
	var all []Standing
	for i := range 14 {
		all = append(all, Standing{Alert: Alert{Cause: PickleOver, Name: fmt.Sprint("spoon ", i)}, Late: 9 * time.Hour})
	}
	require.Contains(t, Summary(all), "14 alerts came due while nobody looked; first PICKLE OVERDUE - spoon 0")
	require.Empty(t, Summary(all[:10]))
	for i := range all {
		all[i].Late = 0
	}
	require.Empty(t, Summary(all), "what was told in time is no flood")
}

func TestSounds(t *testing.T) {
	cases := []struct {
		p     Priority
		since time.Duration
		n     int
		next  time.Duration
		again bool
	}{
		{Danger, 0, 1, 10 * time.Second, true},
		{Danger, 25 * time.Second, 3, 5 * time.Second, true},
		{Danger, time.Hour, 361, 10 * time.Second, true},
		{Call, 0, 1, 30 * time.Second, true},
		{Call, 2 * minute, 5, 0, false},
		{Call, 3 * minute, 5, 0, false},
		{Notice, 4 * minute, 1, minute, true},
		{Notice, time.Hour, 4, 0, false},
		{Prompt, time.Hour, 0, 0, false},
		{Danger, -time.Second, 0, 0, false},
	}
	for _, c := range cases {
		n, next, again := Sounds(c.p, c.since)
		require.Equal(t, c.n, n, "%v %v", c.p, c.since)
		require.Equal(t, c.again, again, "%v %v", c.p, c.since)
		require.Equal(t, c.next, next, "%v %v", c.p, c.since)
	}
}

// Every cause has a priority of its own standing, and a word leads each sentence.
func TestPriorities(t *testing.T) {
	for cause, p := range priorities {
		s := Alert{Cause: cause, Name: "spoon"}.Sentence(0)
		require.True(t, strings.HasPrefix(s, p.String()+": "), s)
		require.Equal(t, int(p), len(p.Marks()))
	}
	require.Equal(t, Prompt, Cause("").Priority())
}
