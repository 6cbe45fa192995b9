package alloys

import (
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
)

// A small set, as a smith might add: an invented alloy of the Saltmarsh Quay class.
const (
	ownAlloys  = "id,name,uns,fineness,names,family,composition,self_softening\nOWN1,quay silver,,940,quay|class silver,silver,94 % Ag,no\n"
	ownFigures = "alloy,property,form,condition,school,at,at_kind,low,high,bound,unit,use,source,confidence,note\n" +
		"OWN1,density,,,,,,10.4,10.4,,g/cm3,default,bench,practice,\n" +
		"OWN1,hardness,strip,,,0,pct_thickness,60,70,,HV,default,bench,read,\n" +
		"OWN1,hardness,strip,,,40,pct_thickness,110,120,,HV,default,bench,read,\n"
	ownRules   = "alloy,kind,text,use,source,confidence\nOWN1,quench,Water.,also,bench,practice\nOWN1,quench,Air.,default,bench,practice\n"
	ownSources = "key,author,title,year,locator\nbench,the class at Saltmarsh Quay,notes,n.d.,page 1\n"
)

func texts(alloys, figures, rules, sources string) Texts {
	return Texts{
		Alloys:  Text{"alloys", strings.NewReader(alloys)},
		Figures: Text{"figures", strings.NewReader(figures)},
		Rules:   Text{"rules", strings.NewReader(rules)},
		Sources: Text{"sources", strings.NewReader(sources)},
	}
}

func TestReadTakesOwnTables(t *testing.T) {
	b, err := Read(texts("\uFEFF# a spreadsheet wrote this\n"+ownAlloys, ownFigures, ownRules, ownSources))
	require.NoError(t, err)
	a, err := b.Find("Quay")
	require.NoError(t, err)
	require.Equal(t, "Air.", a.Rules(RuleQuench)[0].Text, "a default comes first wherever it stands")
	c, ok := a.Curve(Hardness, Strip)
	require.True(t, ok)
	low, high, ok := c.At(stripAt(20))
	require.True(t, ok)
	require.True(t, 60 < low && low < high && high < 120)
	_, err = Find("quay")
	require.Error(t, err, "the embedded tables are untouched")
}

// changed puts one text for another, once.
func changed(text, old, new string) string { return strings.Replace(text, old, new, 1) }

func TestReadNamesThePlace(t *testing.T) {
	hard := "OWN1,hardness,strip,,,40,pct_thickness,110,120,,HV,default,bench,read,\n"
	density := "OWN1,density,,,,,,10.4,10.4,,g/cm3,default,bench,practice,\n"
	for _, c := range []struct {
		name, alloys, figures, rules, sources string
		want                                  string
	}{
		{"a misspelt column", changed(ownAlloys, "uns", "uss"), "", "", "", `alloys:1:9: column "uss" should be "uns"`},
		{"a name of two alloys", ownAlloys + "OWN2,quay,,,,silver,x,no\n", "", "", "", `alloys:3:1: "quay" is a name of OWN1 too`},
		{"an alloy twice", ownAlloys + "OWN1,other,,,,silver,x,no\n", "", "", "", `alloys:3:1: alloy "OWN1" stands twice`},
		{"a source twice", "", "", "", ownSources + "bench,a,b,c,d\n", `sources:3:1: source "bench" stands twice`},
		{"too few fields", "", changed(ownFigures, density, "OWN1,density\n"), "", "", "figures:2:1: wrong number of fields"},
		{"an open quote", "", ownFigures + `OWN1,"density`, "", "", `figures:5:14: extraneous or missing " in quoted-field`},
		{"an unknown alloy", "", changed(ownFigures, "OWN1,density", "OWN9,density"), "", "", `figures:2:1: alloy "OWN9" is not in the table of alloys`},
		{"an unknown property", "", changed(ownFigures, "density", "weight"), "", "", `figures:2:6: property "weight" is not one of "density"`},
		{"a decimal comma", "", changed(ownFigures, "10.4,10.4", `"10,4",10.4`), "", "", `figures:2:19: low "10,4" is not a number`},
		{"no number at all", "", changed(ownFigures, "10.4,10.4", "NaN,10.4"), "", "", `figures:2:19: low "NaN" is not a number`},
		{"upside down", "", changed(ownFigures, "10.4,10.4", "10.6,10.4"), "", "", `figures:2:24: low 10.6 is above high 10.4`},
		{"a slip of the point", "", changed(ownFigures, "10.4,10.4", "104,104"), "", "", `figures:2:23: 104 to 104 is out of range for density, which goes from 0.5 to 25`},
		{"another unit", "", changed(ownFigures, "g/cm3", "kg/m3"), "", "", `figures:2:30: unit "kg/m3" is not one of "g/cm3"`},
		{"an unknown source", "", changed(ownFigures, "bench", "hearsay"), "", "", `figures:2:44: source "hearsay" is not in the table of sources`},
		{"a second default", "", ownFigures + changed(density, "10.4,10.4", "10.5,10.5"), "", "", `figures:5:1: OWN1 has a default density for "" already`},
		{"a figure twice", "", ownFigures + density, "", "", `figures:5:1: this figure stands twice`},
		{"never without a reason", "", changed(ownFigures, "default", "never"), "", "", `figures:2:57: a figure never to be used needs a note that says why`},
		{"softer with work", "", changed(ownFigures, "110,120", "50,120"), "", "", `figures:4:1: hardness at 0 % and at 40 % goes against its trend`},
		{"two points in one place", "", ownFigures + changed(hard, "strip,,,40,", "strip,H04,,40.0,"), "", "", `figures:5:1: a second figure at 40 % on one curve`},
		{"wire on a strip curve", "", changed(ownFigures, "40,pct_thickness", "40,pct_area"), "", "", `figures:4:1: at_kind "pct_area" on a curve of "pct_thickness"`},
		{"all of it off", "", changed(ownFigures, ",40,", ",100,"), "", "", `figures:4:23: at 100 is not from 0 to below 100 %`},
		{"a place with no kind", "", changed(ownFigures, "40,pct_thickness", "40,"), "", "", `figures:4:26: at_kind ""`},
		{"a kind with no place", "", changed(ownFigures, "40,pct_thickness", ",pct_thickness"), "", "", `figures:4:24: at_kind "pct_thickness" stands without a place`},
		{"a limit with no school", "", ownFigures + "OWN1,limit,hand,wrought,,,,40,40,,pct_area,default,bench,practice,\n", "", "", `figures:5:25: a limit needs a school`},
		{"a limit of neither", "", ownFigures + "OWN1,limit,hand,,half,,,40,40,,pct_area,default,bench,practice,\n", "", "", `figures:5:17: a limit or a least work is for "wrought" or "cast" metal, not for ""`},
		{"a school of hardness", "", changed(ownFigures, "strip,,,0", "strip,,few,0"), "", "", `figures:3:22: school "few" is for limits only`},
		{"a density on the axis", "", changed(ownFigures, "density,,,,,", "density,,,,10,pct_area"), "", "", `figures:2:17: a figure of density has no place`},
		{"half a course", "", ownFigures + "OWN1,limit,hand,cast,few,,,1.5,2,,courses,default,bench,practice,\n", "", "", `figures:5:35: 1.5 to 2 is not a whole number of courses`},
		{"an open range", "", changed(ownFigures, "110,120,,", "110,120,min,"), "", "", `figures:4:48: bound "min" is for a single value, not for 110 to 120`},
		{"an emissivity of another skin", "", ownFigures + "OWN1,emissivity,,polished,,,,0.02,0.04,,-,default,bench,practice,\n", "", "", `figures:5:18: an emissivity is of a skin, one of "clean", "oxidised", "fluxed", not of "polished"`},
		{"an emissivity of no skin", "", ownFigures + "OWN1,emissivity,,,,,,0.02,0.04,,-,default,bench,practice,\n", "", "", `figures:5:18: an emissivity is of a skin`},
		{"more than a perfect radiator", "", ownFigures + "OWN1,emissivity,,clean,,,,0.02,4,,-,default,bench,practice,\n", "", "", `0.02 to 4 is out of range for emissivity`},
		{"an ageing that melts", "", ownFigures + "OWN1,solidus,,,,,,240,240,,C,default,bench,read,\nOWN1,age,,,,,,300,300,,C,default,bench,read,\n", "", "", `figures:6:1: an age hardening of 300 C melts OWN1`},
		{"a conductivity in other units", "", ownFigures + "OWN1,conductivity,,,,,,400,400,,W/cmK,default,bench,practice,\n", "", "", `unit "W/cmK" is not one of "W/mK"`},
		{"an unknown kind of rule", "", "", changed(ownRules, "quench", "chill"), "", `rules:2:6: kind "chill" is not one of`},
		{"a rule without words", "", "", changed(ownRules, "Water.", ""), "", `rules:2:13: text is missing`},
		{"another alphabet's bytes", changed(ownAlloys, "94 %", "94 \xff"), "", "", "", `is not UTF-8`},
		{"an empty file", "\n# nothing\n", "", "", "", `alloys:1:1: no header row`},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := texts(or(c.alloys, ownAlloys), or(c.figures, ownFigures), or(c.rules, ownRules), or(c.sources, ownSources))
			b, err := Read(in)
			require.Nil(t, b, "never half a set")
			require.ErrorContains(t, err, c.want)
		})
	}
}

func or(text, instead string) string {
	if text == "" {
		return instead
	}
	return text
}

func TestReadPassesAReadErrorOn(t *testing.T) {
	broken := errors.New("the stick was pulled out")
	in := texts(ownAlloys, "", ownRules, ownSources)
	in.Figures.From = io.MultiReader(strings.NewReader(ownFigures), iotest.ErrReader(broken))
	_, err := Read(in)
	require.ErrorIs(t, err, broken)
	require.ErrorContains(t, err, "figures:5:1: ")
}

func FuzzRead(f *testing.F) {
	f.Add(ownAlloys, ownFigures, ownRules, ownSolders, ownSources)
	f.Add(alloysCSV, figuresCSV, rulesCSV, soldersCSV, sourcesCSV)
	f.Add("", "", "", "", "")
	f.Add(ownAlloys, ownFigures+"OWN1,limit,\"ha\nnd\",,,,,,,,,,,,\n", ownRules, ownSolders, ownSources)
	f.Fuzz(func(t *testing.T, alloys, figures, rules, solders, sources string) {
		in := texts(alloys, figures, rules, sources)
		if solders != "" {
			in.Solders = Text{"solders", strings.NewReader(solders)}
		}
		b, err := Read(in)
		if err != nil {
			require.Nil(t, b)
			wrong, ok := errors.AsType[*TableError](err)
			require.True(t, ok, "%v", err)
			require.Positive(t, wrong.Line)
			require.Positive(t, wrong.Column)
			requireOneClause(t, err)
			return
		}
		for _, s := range b.Solders() {
			found, err := b.FindSolder(string(s.ID))
			require.NoError(t, err)
			require.Equal(t, s.ID, found.ID)
		}
		for _, a := range b.All() {
			found, err := b.Find(string(a.ID))
			require.NoError(t, err)
			require.Equal(t, a.ID, found.ID)
			for _, c := range a.held.curves() {
				p := c.Points()
				low, high, ok := c.At((p[0].Strain + p[1].Strain) / 2)
				require.True(t, ok)
				require.LessOrEqual(t, low, high)
			}
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := Read(embeddedTexts()); err != nil {
			b.Fatal(err)
		}
	}
}

func TestVersionNamesTheTables(t *testing.T) {
	require.Regexp(t, `^[0-9a-f]{8}$`, Version())
	require.Equal(t, Version(), Version())
}
