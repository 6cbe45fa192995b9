package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
)

// A heat is nothing until a bend check proves it: a torch may have been too
// short, too cool, or on the other end.
func TestOnlyAProvedHeatResetsTheCount(t *testing.T) {
	h := start(wrought("AG925")).then(course("lengthen", bar(6.4, 7.2))).then(course("lengthen", bar(5.6, 6.8)))
	worked := h.done()
	require.InDelta(t, 0.5283, worked, 0.02, "two hard courses")
	for _, c := range []struct {
		name, reason string
		story        story
		soft         bool
		unproven     int
	}{
		{"proved soft", "the bend check says so", h.annealed(), true, 0},
		{"quenched", "nobody has bent it yet", h.quenched(), false, 0},
		{"springy", "the bend check says that it is not soft", h.quenched().then(schedule.Springy{}), false, 1},
		{"springy, then soft without another heat", "there is no new heat to prove", h.quenched().then(schedule.Springy{}).then(schedule.Soft{}), false, 1},
		{"springy, then annealed", "the second heat did it", h.quenched().then(schedule.Springy{}).annealed(), true, 0},
		{"soft without a heat", "cold metal does not soften by being bent", h.then(schedule.Soft{}), false, 0},
		{"springy without a heat", "no heat failed", h.then(schedule.Springy{}), false, 0},
		{"heated again before it was proved", "the first heat proved nothing", h.quenched().then(schedule.Begun{}), false, 1},
		{"heated again and proved", "the last heat counts", h.quenched().annealed(), true, 0},
		{"relit from the flame", "one heat, begun again", h.then(schedule.Begun{}).then(schedule.Begun{}), false, 0},
		{"only reached and proved", "the smith logs with hot hands: not every step", h.then(schedule.Reached{}).then(schedule.Soft{}), true, 0},
		{"quenched twice", "dipping it again is no second heat", h.quenched().then(schedule.Quenched{}).then(schedule.Soft{}), true, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := c.story.state()
			require.Equal(t, c.unproven, s.Zones[0].Unproven)
			if c.soft {
				require.Zero(t, c.story.done(), c.reason)
				return
			}
			require.Equal(t, worked, c.story.done(), c.reason)
		})
	}
}

// Work on a piece whose heat nobody proved goes on top of the old count.
func TestPassBeforeTheProof(t *testing.T) {
	h := start(wrought("AG925")).then(course("lengthen", bar(6.4, 7.2)))
	on := h.quenched().then(course("lengthen", bar(5.9, 7.0)))
	require.Equal(t, h.then(course("lengthen", bar(5.9, 7.0))).done(), on.done())
	require.Equal(t, 1, on.state().Zones[0].Unproven)
	require.Contains(t, on.advice().Reasons, "1 heat since it was last soft not proved soft: the count stands")
	require.Equal(t, on.done(), on.then(schedule.Soft{}).done(), "too late: it was hammered since")
}

func TestVerdictsOfAHeat(t *testing.T) {
	h := start(wrought("AG925")).then(course("lengthen", bar(6.4, 7.2)))
	for _, c := range []struct {
		name, reason string
		body         schedule.Body
		want         schedule.Verdict
		next         string
	}{
		{"begun", "the window, before it is passed", schedule.Begun{}, schedule.VerdictHeating, "to 593 to 649 °C; then log that it is reached"},
		{"reached", "even heat, then out", schedule.Reached{}, schedule.VerdictSoak, "hold until the whole piece is even, then take it out of the flame; wait until the glow has gone, then quench in water"},
		{"out", "sterling quenched red can crack", schedule.Out{}, schedule.VerdictWait, "wait until the glow has gone, then quench in water; then bend it a little"},
		{"quenched", "the heat is not proved", schedule.Quenched{}, schedule.VerdictProve, "soft or still springy? The count stands until it is proved soft"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			h = h.then(c.body)
			require.Equal(t, c.want, h.advice().Verdict)
			require.Contains(t, h.advice().Next, c.next)
		})
	}
	require.Equal(t, schedule.VerdictCarryOn, h.then(schedule.Soft{}).advice().Verdict)
}

func TestMeasuredHeat(t *testing.T) {
	// Windows and melting points of the tables: sterling 593-649 °C, solidus
	// 788 °C (JEWSCI_AG), as cast 779.1 °C (NIST_AGCU); pewter melts from 240 °C.
	begun := func(t unit.Celsius) schedule.Body { return schedule.Begun{Temp: t} }
	reached := func(t unit.Celsius) schedule.Body { return schedule.Reached{Temp: t} }
	for _, c := range []struct {
		name, reason string
		piece        schedule.Started
		heat         []schedule.Body
		want         string // "" for no word
	}{
		{"not measured", "most torches have no thermometer", wrought("AG925"), []schedule.Body{reached(0)}, ""},
		{"in the window", "all is well", wrought("AG925"), []schedule.Body{reached(620)}, "right: 620 °C is in the window"},
		{"on its low end", "the window includes its ends", wrought("AG925"), []schedule.Body{reached(593)}, "right: 593 °C"},
		{"on its high end", "the window includes its ends", wrought("AG925"), []schedule.Body{reached(649)}, "right: 649 °C"},
		{"under it", "it will not be soft", wrought("AG925"), []schedule.Body{reached(540)}, "under-heated: 540 °C is below the window of 593 to 649 °C"},
		{"on the way up", "it is not yet too low", wrought("AG925"), []schedule.Body{begun(20)}, ""},
		{"over it", "the grain grows", wrought("AG925"), []schedule.Body{reached(720)}, "over-heated: 720 °C is over the window of 593 to 649 °C: the grain grows"},
		{"the hottest counts", "a heat that fell again was still too hot", wrought("AG925"), []schedule.Body{reached(720), schedule.Out{Temp: 600}}, "720 °C is over"},
		{"at the solidus", "it melts", wrought("AG925"), []schedule.Body{reached(788)}, "788 °C is at or above the solidus of 788 °C: it began to melt"},
		{"too hot while in the flame", "nobody waits for the next step with that", wrought("AG925"), []schedule.Body{begun(800)}, "800 °C is at or above the solidus"},
		{"a casting sooner", "its pools of eutectic melt first", cast("AG925"), []schedule.Body{reached(785)}, "at or above the solidus of 779.1 °C"},
		{"wrought not yet", "the pools have gone", wrought("AG925"), []schedule.Body{reached(785)}, "785 °C is over"},
		{"pewter", "no window, but a melting point", wrought("SN92"), []schedule.Body{reached(250)}, "250 °C is at or above the solidus of 240 °C"},
		{"pewter below", "no window to judge by", wrought("SN92"), []schedule.Body{reached(150)}, "right: 150 °C; bend it"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			said := start(c.piece).then(course("lengthen", bar(7, 7.2))).all(nil, c.heat...).advice().Reasons[1]
			if c.want == "" {
				require.NotContains(t, said, "°C")
				return
			}
			require.Contains(t, said, c.want)
		})
	}
}

// The timer is the clock less the entry: nothing counts down.
func TestHeatTimer(t *testing.T) {
	h := start(wrought("AG925")).then(schedule.Begun{}).then(schedule.Out{})
	s := h.state()
	require.Equal(t, "out of the flame for 1 min 30 s", s.Advise(evening.Add(3*time.Minute+30*time.Second+time.Millisecond), nil).Reasons[0])
	require.Equal(t, "out of the flame for 0 s", s.Advise(evening, nil).Reasons[0], "a clock that was set back")
}

// A bar annealed straight from the mould is still a casting.
func TestWhenACastingIsWrought(t *testing.T) {
	// The first limit is 20 % of the area, strain ln(1/0.8) = 0.2231; half of it
	// is 0.1116. Both sides drawn alike: strain is 2 ln(8/side).
	for _, c := range []struct {
		name, reason string
		story        story
		want         alloys.Condition
	}{
		{"not worked", "the core is as cast", start(cast("AG925")).annealed(), alloys.Cast},
		{"a little", "strain 0.101: light blows leave the core a casting", start(cast("AG925")).then(course("lengthen", bar(7.605, 7.605))).annealed(), alloys.Cast},
		{"half", "strain 0.1126, past half of the first limit", start(cast("AG925")).then(course("lengthen", bar(7.562, 7.562))).annealed(), alloys.Wrought},
		{"worked, not heated", "the grain is new only after a heat", start(cast("AG925")).then(course("lengthen", bar(7, 7))), alloys.Cast},
		{"worked, not proved", "and only after one that is proved", start(cast("AG925")).then(course("lengthen", bar(7, 7))).quenched(), alloys.Cast},
		{"own limit", "half of the smith's own, as area: 0.3466", start(limited(cast("AG925"), "50%")).then(course("lengthen", bar(7, 7))).annealed(), alloys.Cast},
		{"own limit reached", "strain 0.41", start(limited(cast("AG925"), "50%")).then(course("lengthen", bar(6.5, 6.5))).annealed(), alloys.Wrought},
		{"school of the wrought state", "it says nothing of castings: the table's first limit holds", start(limited(cast("AG925"), "half-section")).then(course("lengthen", bar(7, 7))).annealed(), alloys.Wrought},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, c.story.state().Zones[0].Condition, c.reason)
		})
	}
}
