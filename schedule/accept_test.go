package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

var (
	barred  = start(wrought("AG925", "tip", "butt")).then(course("lengthen", bar(7, 7.4)))
	plate   = start(schedule.Started{Alloy: "AG925", Reading: sheet(1), Calliper: 0.01})
	bowled  = start(schedule.Started{Alloy: "C11000", Reading: vessel(1.2, 150), Calliper: 0.1})
	banded  = start(hoop())
	cracked = barred.then(schedule.CrackSeen{}, "tip")
)

// offered is one more entry of a story, at the minute after it.
type offered struct {
	name, reason string
	story        story
	body         schedule.Body
	zones        []string
	is           error  // nil when no caller tells it apart
	want         string // "" when it is accepted
}

func (o offered) test(t *testing.T) {
	require.NotEmpty(t, o.reason)
	err := schedule.Accept(o.story, entryAt(len(o.story), o.body, o.zones...), o.story.now())
	if o.want == "" {
		require.NoError(t, err, o.reason)
		s := o.story.then(o.body, o.zones...).state()
		require.Empty(t, s.Silenced, "what is accepted must not silence the piece")
		return
	}
	require.ErrorContains(t, err, o.want, o.reason)
	if o.is != nil {
		require.ErrorIs(t, err, o.is)
	}
}

func TestAcceptRefuses(t *testing.T) {
	bend := schedule.Pass{Process: "bend", Count: 1, Radius: 30}
	twist := schedule.Pass{Process: "twist", Count: 1, Turns: 1, Over: 60}
	for _, o := range []offered{
		{"unknown zone", "a slip of the finger", barred, unread("roll", 1), []string{"tap"}, schedule.ErrZone, `no such zone: "tap"; this piece has tip, butt`},
		{"zone named twice", "its work would count twice", barred, unread("roll", 1), []string{"tip", "tip"}, nil, `zone "tip" is named twice`},
		{"grew in every direction", "no hammer does that: a reading of another piece", barred, course("lengthen", bar(8, 8)), nil, coldwork.ErrGrew, "grew in every direction"},
		{"measured as grown", "nor does a calliper", barred, schedule.Measured{Reading: bar(8, 8)}, nil, coldwork.ErrGrew, "from 7x7.4 mm to 8x8 mm"},
		{"grew in one zone", "one of the zones is enough", barred.then(schedule.Filed{Reading: bar(6, 6)}, "tip"), schedule.Measured{Reading: bar(7, 7.4)}, nil, coldwork.ErrGrew, "from 6x6 mm"},
		{"sheet that thickened", "its one side grew", plate, course("roll", sheet(1.1)), nil, coldwork.ErrGrew, "grew"},
		{"sheet made a bar", "the two cannot be compared", plate, course("roll", bar(1, 5)), nil, coldwork.ErrShape, "cannot be compared"},
		{"ring of a bar", "a bar has no ring", barred, course("raise", ring(90)), nil, coldwork.ErrShape, "a ring diameter says nothing about a rectangular section"},
		{"bend without a radius", "its strain comes from it", barred, unread("bend", 1), nil, nil, "a bend needs an inside radius"},
		{"twist without turns", "its strain comes from them", barred, unread("twist", 1), nil, nil, "a twist needs turns"},
		{"turns on a bend", "it is one or the other", barred, schedule.Pass{Process: "bend", Count: 1, Radius: 30, Turns: 1}, nil, nil, "a bend needs"},
		{"radius on a roll", "a roll has none", barred, schedule.Pass{Process: "roll", Count: 1, Radius: 30}, nil, nil, "a roll course has no radius"},
		{"twisted sheet", "no bench twists it, and no formula holds", plate, twist, nil, nil, "a sheet section is not twisted"},
		{"twisted hoop", "it is closed", banded, twist, nil, nil, "a ring section is not twisted"},
		{"bend of an unknown section", "its thickness is needed", start(schedule.Started{Alloy: "AG925", Calliper: 0.1}), bend, nil, nil, "the thickness of zone whole is not known"},
		{"filing that grows", "a file takes metal off", barred, schedule.Filed{Reading: bar(7, 7.6)}, nil, nil, "filing takes metal off: from 7x7.4 mm to 7x7.6 mm a side grew"},
		{"filed to another shape", "a bar is not filed into sheet", barred, schedule.Filed{Reading: sheet(5)}, nil, coldwork.ErrShape, "cannot be compared"},
		{"trimmed to the ring of a bar", "a bar has no ring", barred, schedule.Filed{Reading: ring(5)}, nil, coldwork.ErrShape, "says nothing about"},
		{"proof without a heat", "cold metal does not soften", barred, schedule.Soft{}, nil, schedule.ErrNoHeat, "no heat to prove: none is logged since the last work"},
		{"springy without a heat", "no heat failed", barred, schedule.Springy{}, nil, schedule.ErrNoHeat, "no heat to prove"},
		{"proof of the other end", "that end was never heated", barred.quenched("tip"), schedule.Soft{}, []string{"butt"}, schedule.ErrNoHeat, "no heat to prove"},
		{"proof after hammering", "it was hammered since", barred.quenched().then(unread("roll", 1)), schedule.Soft{}, nil, schedule.ErrNoHeat, "no heat to prove"},
		{"crack filed that none saw", "log it first", barred, schedule.CrackFiled{}, nil, schedule.ErrNoCrack, "no crack is open"},
		{"crack overridden that none saw", "log it first", barred, schedule.CrackIgnored{}, nil, schedule.ErrNoCrack, "no crack is open"},
		{"crack of the other end", "that end has none", cracked, schedule.CrackFiled{}, []string{"butt"}, schedule.ErrNoCrack, "no crack is open"},
		{"overridden twice", "it is overridden already", cracked.then(schedule.CrackIgnored{}), schedule.CrackIgnored{}, nil, schedule.ErrNoCrack, "no crack is open"},
		{"0 courses", "a pass is one at least", barred, unread("roll", 0), nil, nil, "0 courses"},
		{"note too long", "what is accepted must be read back", barred, schedule.Note{Text: string(make([]byte, 5000))}, nil, nil, "over 4096 bytes"},
		{"started again", "a second start silences the piece", barred, wrought("AG925"), nil, nil, "the piece is started already"},
		{"started of no alloy", "nothing could be advised of it", nil, wrought("unobtainium"), nil, nil, `no alloy is called "unobtainium"`},
		{"started with a ring of a bar", "no section can be made of it", nil, schedule.Started{Alloy: "AG925", Calliper: 0.1, Reading: schedule.Reading{Size: bar(8, 8).Size, Ring: 40}}, nil, coldwork.ErrShape, "says nothing about"},
		{"started with a limit of no school", "the table's would stand in silently", nil, limited(cast("AG925"), "two-thirds"), nil, coldwork.ErrLimit, `"two-thirds" is not a limit`},
		{"started without a section", "every strain starts from it", nil, schedule.Started{Alloy: "AG925", Calliper: 0.1}, nil, nil, "a piece without a section"},
	} {
		t.Run(o.name, o.test)
	}
}

func TestAcceptLetsThrough(t *testing.T) {
	for _, o := range []offered{
		{"start", "of a wrought bar", nil, wrought("AG925"), nil, nil, ""},
		{"start with a school of one condition", "it speaks once the casting is wrought", nil, limited(cast("AG925"), "half-section"), nil, nil, ""},
		{"spread in one direction", "widening spreads", barred, course("widen", bar(6, 9)), nil, nil, ""},
		{"grown within the calliper's error", "the calliper, not the metal", barred, schedule.Measured{Reading: bar(7.1, 7.5)}, nil, nil, ""},
		{"caulked rim", "blows on the edge thicken it", bowled, course("caulk", vessel(1.6, 151)), nil, nil, ""},
		{"ring that shrinks", "raising", bowled, course("raise", ring(141)), nil, nil, ""},
		{"ring that grows", "sinking", bowled, course("sink", ring(160)), nil, nil, ""},
		{"first ring of a disc", "a vessel starts as sheet", plate, course("raise", ring(150)), nil, nil, ""},
		{"bar made round", "bars are compared by their area", barred, course("draw", wire(6)), nil, nil, ""},
		{"bend with a radius", "its strain comes from it", barred, schedule.Pass{Process: "bend", Count: 1, Radius: 30}, nil, nil, ""},
		{"twist back", "untwisting is twisting", barred, schedule.Pass{Process: "twist", Count: 1, Turns: -1, Over: 60}, nil, nil, ""},
		{"filed within the calliper's error", "a light touch", barred, schedule.Filed{Reading: bar(6.9, 7.45)}, nil, nil, ""},
		{"proof after the quench", "as it should be", barred.quenched(), schedule.Soft{}, nil, nil, ""},
		{"proof of all after a heat of one", "the heated one is proved", barred.quenched("tip"), schedule.Soft{}, nil, nil, ""},
		{"proof that it failed", "as it happens", barred.quenched("tip"), schedule.Springy{}, []string{"tip"}, nil, ""},
		{"quench of an unlogged heat", "hot hands forget", barred, schedule.Quenched{}, nil, nil, ""},
		{"crack filed out", "as it should be", cracked, schedule.CrackFiled{}, []string{"tip"}, nil, ""},
		{"crack overridden", "the smith decides", cracked, schedule.CrackIgnored{}, nil, nil, ""},
		{"overridden crack filed out", "better late", cracked.then(schedule.CrackIgnored{}), schedule.CrackFiled{}, nil, nil, ""},
		{"note", "anything", barred, schedule.Note{Text: "rings bright"}, []string{"tip"}, nil, ""},
	} {
		t.Run(o.name, o.test)
	}
}

func TestAcceptTime(t *testing.T) {
	now := barred.now()
	for _, c := range []struct {
		name, reason string
		at           time.Time
		is           error
		want         string
	}{
		{"now", "as it happens", now, nil, ""},
		{"earlier", "logged after the tea", evening.Add(30 * time.Second), nil, ""},
		{"at the very start", "both in one minute", evening, nil, ""},
		{"a microsecond ahead", "it has not happened", now.Add(time.Microsecond), schedule.ErrTime, "has not happened yet"},
		{"before the start", "the piece was not there", evening.Add(-time.Second), schedule.ErrTime, "is before the piece was started"},
		{"1969", "a clock that was never set", time.Date(1969, 1, 1, 0, 0, 0, 0, time.UTC), schedule.ErrTime, "is not believable"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			e := entryAt(9, schedule.CrackSeen{})
			e.At = c.at
			err := schedule.Accept(barred, e, now)
			if c.is == nil {
				require.NoError(t, err, c.reason)
				return
			}
			require.ErrorIs(t, err, c.is)
			require.ErrorContains(t, err, c.want)
		})
	}
}

// An entry that is logged late is judged by what was known when it happened.
func TestAcceptLooksBackFromTheEntry(t *testing.T) {
	h := barred.quenched().then(schedule.Soft{})
	late := entryAt(20, schedule.Springy{})
	late.At = evening.Add(5*time.Minute + 30*time.Second) // between the quench and the proof
	require.NoError(t, schedule.Accept(h, late, h.now()))
	grown := entryAt(21, course("lengthen", bar(7.5, 7.8)))
	grown.At = evening.Add(30 * time.Second)
	require.NoError(t, schedule.Accept(h, grown, h.now()), "between 8x8 and 7x7.4")
}

func TestAcceptDoesNotTouchItsEntries(t *testing.T) {
	h := barred.quenched()
	before := append(story{}, h...)
	require.NoError(t, schedule.Accept(h, entryAt(20, schedule.Note{}), evening.Add(time.Hour)))
	require.Equal(t, before, h)
}

func TestAcceptNamesTheNearestAlloy(t *testing.T) {
	err := schedule.Accept(nil, entryAt(0, wrought("sterlng")), evening)
	unknown := &alloys.UnknownError{}
	require.ErrorAs(t, err, &unknown)
	require.Contains(t, unknown.Nearest, "sterling")
}

func TestCheckName(t *testing.T) {
	for name, want := range map[string]string{
		"spoon 1": "", "Schüssel": "", "3/4": "",
		"": "empty", " a": "a blank at an end", "a\n": "a blank at an end", "a\nb": "does not print", "a\xff": "is not UTF-8",
		"a\u200bb": "does not print",
	} {
		err := schedule.CheckName(name)
		if want == "" {
			require.NoError(t, err, name)
			continue
		}
		require.ErrorContains(t, err, want, name)
	}
}

func TestReadingOn(t *testing.T) {
	before := coldwork.Section{Shape: unit.Sheet, Thick: 1.2, Diameter: 150}
	after, err := sheet(1.1).On(before)
	require.NoError(t, err)
	require.Equal(t, coldwork.Section{Shape: unit.Sheet, Thick: 1.1, Diameter: 150}, after, "a wall read again keeps its ring")
	same, err := schedule.Reading{}.On(before)
	require.NoError(t, err)
	require.Equal(t, before, same, "no reading changes nothing")
}
