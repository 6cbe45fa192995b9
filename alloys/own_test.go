package alloys

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
)

// A file of one's own: an invented alloy of the Saltmarsh Quay class, its rules
// before its figures, and sources of both kinds.
const ownFile = "\uFEFF# the class's own metal\n" + ownAlloys + "\n" + ownRules + "\n" + ownFigures +
	ownSolidus + ownAnneal + ownLimit + "OWN1,solidus,,cast,,,,760,760,,C,default,NIST_AGCU,read,stand-in: the eutectic\n" +
	"\n# where they were read\n" + ownSources

const (
	ownSolidus = "OWN1,solidus,,,,,,800,800,,C,default,bench,practice,\n"
	ownAnneal  = "OWN1,anneal,,,,,,600,650,,C,default,bench,practice,\n"
	ownLimit   = "OWN1,limit,hand,wrought,class,,,60,60,,pct_thickness,default,bench,practice,\n"
)

func TestReadOwnStandsBesideTheEmbedded(t *testing.T) {
	own, err := ReadOwn("own.csv", strings.NewReader(ownFile))
	require.NoError(t, err)
	require.Len(t, own.All(), 1)
	require.Equal(t, 7, own.Figures())
	both := Default().With(own)
	require.Len(t, both.All(), len(All())+1)
	for _, a := range All() {
		got, err := both.Find(string(a.ID))
		require.NoError(t, err)
		require.Equal(t, a.Name, got.Name)
		require.False(t, got.Own)
	}
	quay, err := both.Find("class-silver")
	require.NoError(t, err)
	require.True(t, quay.Own)
	limit, ok := quay.Default(Limit, Wrought)
	require.True(t, ok)
	require.Equal(t, 60.0, limit.Low, "above sterling's 45 %, which an own alloy may be")
	for _, key := range []string{"bench", "NIST_AGCU"} {
		_, ok := both.SourceOf(key)
		require.True(t, ok, key)
	}
	bag7, err := both.FindSolder("bag-7")
	require.NoError(t, err)
	require.False(t, bag7.Own)
	_, err = Find("class-silver")
	require.Error(t, err, "the embedded book is untouched")
	require.Same(t, Default(), Default().With(nil))
	require.Equal(t, Version(), Default().Version())
	require.Regexp(t, "^"+Version()+`\+[0-9a-f]{8}$`, both.Version(), "advice is kept with the tables it was given on")
}

func TestReadOwnTakesSolders(t *testing.T) {
	own, err := ReadOwn("own.csv", strings.NewReader("id,name,names,composition,hazard\nOWNS,quay solder,,half silver,cadmium\n"+
		ownFigures[:strings.Index(ownFigures, "\n")+1]+"OWNS,flow,,,,,,700,700,,C,default,MH31,read,\n"))
	require.NoError(t, err)
	s, err := Default().With(own).FindSolder("quay solder")
	require.NoError(t, err)
	require.True(t, s.Own)
	require.Equal(t, Cadmium, s.Hazard)
	_, ok := s.Default(Solidus)
	require.False(t, ok, "a flow point stands in for nothing")
}

func TestReadOwnOfNothing(t *testing.T) {
	for _, text := range []string{"", "\n\n", "# only a remark\n", ownSources} {
		own, err := ReadOwn("own.csv", strings.NewReader(text))
		require.NoError(t, err)
		require.Empty(t, own.All())
	}
}

func TestReadOwnNamesThePlace(t *testing.T) {
	for _, c := range []struct{ name, old, new, want, reason string }{
		{"a misspelt column", "uns,", "uss,", `own.csv:2:9: column "uss" should be "uns"`, "the head it is most like is meant"},
		{"a column short", ",self_softening", "", "own.csv:2:1: 7 fields, where this table has 8", "the head is counted first"},
		{"no head", "id,name,uns", "#", "own.csv:3:1: no head row stands above this row", "a row of which table?"},
		{"too few fields", "OWN1,quench,Water.,also,bench,practice", "OWN1,quench,Water.", "own.csv:6:1: 3 fields, where this table has 6", "named with the columns"},
		{"an open quote", "Water.", `"Water.`, `own.csv:`, "the format itself"},
		{"an embedded id", "OWN1,quay", "AG925,quay", `own.csv:3:1: "AG925" is a name of the embedded sterling silver (AG925)`, "its limit would change unseen"},
		{"an embedded name", "class silver", "Sterling-Silver", `own.csv:3:1: "Sterling-Silver" is a name of the embedded sterling silver (AG925)`, "in any case"},
		{"a solder's name", "class silver", "easy solder", `own.csv:3:1: "easy solder" is a name of the embedded easy silver solder (EASY)`, "which would be shown?"},
		{"an embedded source", "bench,the class", "MH31,the class", `source "MH31" is one of the embedded ones`, "a citation keeps its meaning"},
		{"an unknown source", "NIST_AGCU", "HEARSAY", `source "HEARSAY" is not in the table of sources`, "cited nowhere"},
		{"a figure for sterling", "OWN1,density", "AG925,density", `own.csv:10:1: alloy "AG925" is not in the table of alloys`, "embedded figures stay"},
		{"upside down", "600,650", "650,600", `own.csv:14:22: low 650 is above high 600`, "low <= high"},
		{"another unit", "600,650,,C", "600,650,,F", `unit "F" is not one of "C"`, "not guessed"},
		{"a second default", ownAnneal, ownAnneal + "OWN1,anneal,,,,,,610,640,,C,default,bench,practice,\n", `OWN1 has a default anneal for "" already`, "one is computed with"},
		{"too near to melting", "600,650", "600,776", `own.csv:14:1: the default anneal of OWN1 ends at 776 C, less than 25 C below its solidus of 800 C`, "a torch is not steady"},
		{"too near as cast", "600,650", "600,740", `own.csv:14:1: the default anneal of OWN1 ends at 740 C, less than 25 C below its solidus of 760 C`, "a cast bar melts lower"},
		{"no solidus", ownSolidus, "", `own.csv:13:1: a default anneal needs a default solidus to keep below, and OWN1 has none`, "how hot is too hot?"},
		{"an anneal that melts", ownAnneal, ownAnneal + "OWN1,anneal,,,,,,800,800,,C,also,bench,practice,\n", `own.csv:15:1: an anneal of 800 C melts OWN1`, "shown beside the default"},
		{"liquid before solid", ownSolidus, ownSolidus + "OWN1,liquidus,,,,,,790,790,,C,default,bench,practice,\n", `own.csv:13:1: the solidus of OWN1, 800 C, is above its liquidus, 790 C`, "one is wrong"},
		{"a minimum for a maximum", "60,60,,pct", "60,60,min,pct", `a limit is the most work, so "min" is none; the least before an anneal is least_work`, "it would split"},
		{"courses by default", "60,60,,pct_thickness", "3,3,,courses", `a default limit is a reduction`, "no strain"},
		{"the least above the most", ownLimit, ownLimit + "OWN1,least_work,hand,wrought,,,,70,70,,pct_thickness,default,bench,practice,\n", `the least work of OWN1 lies above the limit`, "never reached"},
		{"a heat for a metal that needs none", "94 % Ag,no", "94 % Ag,yes", `OWN1 softens by itself`, "it would melt"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Contains(t, ownFile, c.old)
			own, err := ReadOwn("own.csv", strings.NewReader(changed(ownFile, c.old, c.new)))
			require.Nil(t, own, "never half a file")
			require.ErrorContains(t, err, c.want)
			_, placed := errors.AsType[*TableError](err)
			require.True(t, placed)
		})
	}
}

// A spreadsheet may save Unicode as two bytes a letter, which no row would tell.
func TestReadOwnOfUTF16(t *testing.T) {
	for _, text := range []string{"\xff\xfei\x00d\x00", "\xfe\xff\x00i\x00d"} {
		_, err := ReadOwn("own.csv", strings.NewReader(text))
		require.ErrorContains(t, err, "own.csv:1:1: the file is in UTF-16, expected UTF-8")
	}
}

func TestReadOwnRefusesWhatItCannotHold(t *testing.T) {
	_, err := ReadOwn("own.csv", strings.NewReader(strings.Repeat("#\n", ownMost)))
	require.ErrorContains(t, err, "own.csv:1:1: the file is larger than 1048576 bytes")
	broken := errors.New("the stick was pulled out")
	_, err = ReadOwn("own.csv", iotest.ErrReader(broken))
	require.ErrorIs(t, err, broken)
	_, err = ReadOwn("own.csv", strings.NewReader(changed(ownFile, "bench,practice", strings.Repeat("x", 5000)+",practice")))
	require.Less(t, len(err.Error()), 200, "what nobody would read to the end is cut")
}

// The embedded tables, put into one file, are refused for their names only.
func TestReadOwnRefusesTheEmbedded(t *testing.T) {
	_, err := ReadOwn("own.csv", strings.NewReader(alloysCSV))
	require.ErrorContains(t, err, `"fine silver" is a name of the embedded fine silver (AG999)`)
}

// Whatever is read, no default window that an own alloy has may melt it.
func FuzzReadOwn(f *testing.F) {
	f.Add(ownFile)
	f.Add(changed(ownFile, "600,650", "600,776"))
	f.Add("id,name\n")
	f.Add("key,author,title,year,locator\na,b,c,d,e\n")
	f.Fuzz(func(t *testing.T, text string) {
		own, err := ReadOwn("own.csv", strings.NewReader(text))
		if err != nil {
			e, ok := errors.AsType[*TableError](err)
			require.True(t, ok)
			require.Nil(t, own)
			require.Positive(t, e.Line)
			require.Positive(t, e.Column)
			requireOneClause(t, err)
			return
		}
		for _, a := range Default().With(own).All()[len(All()):] {
			require.True(t, a.Own)
			_, err := Find(string(a.ID))
			require.Error(t, err)
			for _, c := range []Condition{"", Wrought, Cast} {
				window, advised := a.Default(Anneal, c)
				solidus, ok := a.Default(Solidus, c)
				require.True(t, !advised || ok && window.High+leastMargin <= solidus.Low)
			}
			require.False(t, slices.ContainsFunc(a.called(), func(s string) bool { return plain(s) == "sterling" }))
		}
	})
}

// A smith's emissivity is of a skin that heat can ask for by name.
func TestReadOwnTakesASkinAndRefusesAnother(t *testing.T) {
	row := func(skin string) string {
		return "OWN1,emissivity,," + skin + ",,,,0.3,0.6,,-,default,bench,practice,\n"
	}
	own, err := ReadOwn("own.csv", strings.NewReader(ownAlloys+ownFigures+row("oxidised")+ownSources))
	require.NoError(t, err)
	f, ok := own.All()[0].Default(Emissivity, SkinOxidised)
	require.True(t, ok)
	require.Equal(t, 0.6, f.High)
	_, ok = own.All()[0].Default(Emissivity, SkinClean)
	require.False(t, ok, "a skin that nobody told of is not guessed")
	_, err = ReadOwn("own.csv", strings.NewReader(ownAlloys+ownFigures+row("rusty")+ownSources))
	require.ErrorContains(t, err, `own.csv:7:18: an emissivity is of a skin, one of "clean", "oxidised", "fluxed", not of "rusty"`)
}
