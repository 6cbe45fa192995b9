package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/schedule"
)

func TestDescribe(t *testing.T) {
	long := limited(cast("AG925"), "50% area")
	long.Length = 120
	for _, c := range []struct {
		reason string
		body   schedule.Body
		zones  []string
		want   string
	}{
		{"metal and section", wrought("AG925"), nil, "piece started: AG925 8x8 mm"},
		{"all of it", long, nil, "piece started: AG925 8x8 mm, 120 mm long, as cast, limit 50% area"},
		{"a vessel by its ring", disc(), nil, "piece started: C11000 1.2 mm sheet, ring 150 mm"},
		{"one course", course("lengthen", bar(7, 7.4)), nil, "pass: lengthen to 7x7.4 mm"},
		{"several, unread", unread("planish", 3), []string{"rim"}, "pass: planish, 3 courses (rim)"},
		{"a ring alone", course("raise", ring(141)), nil, "pass: raise to ring 141 mm"},
		{"a bend", schedule.Pass{Process: "bend", Count: 2, Radius: 30, Reading: bar(7, 7)}, nil, "pass: bend, 2 courses to an inside radius of 30 mm to 7x7 mm"},
		{"a twist", schedule.Pass{Process: "twist", Count: 1, Turns: -1.5, Over: 60}, nil, "pass: twist of -1.5 turns over 60 mm"},
		{"a reading", schedule.Measured{Reading: wire(2.5)}, []string{"tip", "butt"}, "measured: 2.5 mm round (tip, butt)"},
		{"a trim", schedule.Filed{Reading: sheet(1)}, nil, "filed or trimmed: 1 mm sheet"},
		{"a heat that nobody measured", schedule.Reached{}, nil, "heat reached"},
		{"a heat begun", schedule.Begun{Temp: 20}, nil, "heat begun: 20 °C"},
		{"a measured one", schedule.Reached{Temp: 630}, nil, "heat reached: 630 °C"},
		{"out of the flame", schedule.Out{Temp: 612.5}, nil, "heat out: 612.5 °C"},
		{"no detail", schedule.Soft{}, []string{"tip"}, "proved soft (tip)"},
		{"a crack", schedule.CrackIgnored{}, nil, "crack overridden"},
		{"what was shown", schedule.Shown{Verdict: schedule.VerdictAnnealSoon, Zone: "tip", Spent: 0.874}, nil, "advice shown: anneal soon, tip, 87 % of the limit spent"},
		{"an alert", schedule.Raised{Verdict: schedule.VerdictAnnealNow}, []string{"tip"}, "alert raised: anneal now (tip)"},
		{"its end", schedule.Acknowledged{Alert: idOf(1)}, nil, "alert acknowledged"},
		{"a note", schedule.Note{Text: "rings bright"}, nil, "note: rings bright"},
		{"a void by the handle of its target", schedule.Void{Target: idOf(42)}, nil, "void: 00001042"},
		{"why it is not read", schedule.Unknown{Row: schedule.Row{Kind: "joint"}, Why: "too new"}, nil, "joint: too new"},
		{"nothing", nil, nil, ""},
	} {
		t.Run(c.want, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, entryAt(1, c.body, c.zones...).Describe(), c.reason)
		})
	}
}

func TestHandle(t *testing.T) {
	for id, want := range map[schedule.ID]string{
		"0198f4b6-5c1e-7d2a-9b40-6f1a2d3c4e5f": "2d3c4e5f",
		"short":                                "short",
		"":                                     "",
	} {
		require.Equal(t, want, schedule.Entry{ID: id}.Handle())
	}
}

func TestCite(t *testing.T) {
	for _, c := range []struct {
		reason string
		source alloys.Source
		want   string
	}{
		{"all of it", alloys.Source{Key: "K", Author: "A. Smith", Title: "Silver", Year: "1906", Locator: "p. 3"}, "K: A. Smith, Silver, 1906, p. 3"},
		{"no year is printed", alloys.Source{Key: "K", Author: "A. Smith", Title: "Silver", Year: "n.d.", Locator: "p. 3"}, "K: A. Smith, Silver, p. 3"},
		{"no place", alloys.Source{Key: "K", Author: "A. Smith", Title: "Silver"}, "K: A. Smith, Silver"},
	} {
		require.NotEmpty(t, c.reason)
		require.Equal(t, c.want, schedule.Cite(c.source), c.reason)
	}
}

// The figures behind an advice are cited, each source once.
func TestAdviceCitesItsFigures(t *testing.T) {
	a := start(wrought("AG925")).then(drawnBy(0.2)).advice()
	seen := map[string]bool{}
	for _, s := range a.Sources {
		require.False(t, seen[s], "%s twice", s)
		seen[s] = true
	}
	for _, key := range []string{"LEWTON", "JALLOY", "WREKIN_HV"} { // limit and quench, anneal window, hardness
		source, ok := alloys.SourceOf(key)
		require.True(t, ok)
		require.Contains(t, a.Sources, schedule.Cite(source))
	}
	require.Len(t, a.Sources, 3)
}

func TestVerdictWords(t *testing.T) {
	words := []string{"unknown", "no anneal", "carry on", "anneal soon", "anneal now", "heating", "soak", "wait", "prove", "file crack"}
	for i, want := range words {
		v := schedule.Verdict(i)
		text, err := v.MarshalText()
		require.NoError(t, err)
		require.Equal(t, want, string(text))
		var back schedule.Verdict
		require.NoError(t, back.UnmarshalText(text))
		require.Equal(t, v, back)
	}
	var zero schedule.Verdict
	require.Equal(t, "unknown", zero.String(), "nothing said is never carry on")
	require.Equal(t, "unknown", schedule.Verdict(200).String())
	require.EqualError(t, zero.UnmarshalText([]byte("Carry on")), `"Carry on" is not a verdict`)
}
