package picture_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/demo"
	"dullred/schedule/picture"
	"dullred/schedule/trial"
)

var update = flag.Bool("update", false, "write the pictures anew")

// figures are pictures of the demo pieces by the name of their golden file, each kind
// where it differs.
func figures(t testing.TB) map[string]picture.Figure {
	all := map[string]picture.Figure{}
	for _, d := range demo.Class(evening) {
		story, name := picture.Of(picture.Source{Name: d.Name, Entries: d.Entries}), strings.ReplaceAll(d.Name, " ", "-")
		all[name+"-limit"] = story.Strain()
		switch d.Name {
		case "spoon 2", "bowl 1":
			all[name+"-hardness"] = story.Hardness()
			all[name+"-heat"] = story.Heat()
			all[name+"-shape"] = story.Shape()
		case "spoon 1", "spoon 3":
			all[name+"-shape"] = story.Shape()
		}
	}
	probed := piece(rod()).by(kw, to(6), schedule.Begun{}, measuredHeat(t, 650), schedule.Quenched{}, schedule.Soft{}, to(5), schedule.Begun{}, measuredHeat(t, 560))
	all["probed-heat"] = probed.story().Heat()
	return all
}

// TestGoldenPictures: the SVGs, and the same in a terminal.
func TestGoldenPictures(t *testing.T) {
	for name, f := range figures(t) {
		t.Run(name, func(t *testing.T) {
			text := picture.Text(f, picture.Terminal{Columns: 78}) + "----\n" + picture.Text(f, picture.Terminal{Columns: 60, Plain: true})
			for ending, got := range map[string]string{".svg": string(picture.SVG(f)), ".txt": text} {
				path := filepath.Join("testdata", name+ending)
				if *update {
					require.NoError(t, os.MkdirAll("testdata", 0o755))
					require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
				}
				want, err := os.ReadFile(path)
				require.NoError(t, err, "go test ./schedule/picture -run Golden -update makes it")
				require.Equal(t, string(want), got)
			}
		})
	}
}

// drawnWith are the elements and attributes that an inert picture needs.
var drawnWith = map[string]string{"svg": "xmlns role aria-labelledby width height viewBox", "title": "id", "desc": "id",
	"path": "d fill stroke stroke-width stroke-dasharray", "text": "x y font-family font-size fill text-anchor font-weight transform"}

// requireInert wants well-formed XML with no other element or attribute, and gives
// its texts.
func requireInert(t require.TestingT, svg []byte) (texts string) {
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return texts
		}
		require.NoError(t, err)
		switch e := token.(type) {
		case xml.StartElement:
			known, ok := drawnWith[e.Name.Local]
			require.True(t, ok, e.Name.Local)
			for _, a := range e.Attr {
				require.Contains(t, strings.Fields(known), a.Name.Local)
				require.NotContains(t, a.Value, "NaN")
				require.NotContains(t, a.Value, "Inf")
			}
		case xml.CharData:
			texts += string(e)
		case xml.Comment, xml.ProcInst, xml.Directive:
			require.Fail(t, "neither comment nor instruction belongs there")
		}
	}
}

// hostile are names that somebody may type.
var hostile = []string{"<script>alert(1)</script>", "]]><x>", `"/><svg onload="x">`, "&amp;&#x0;", "a\x00b\x1b[31m", "\u202etxt.exe", "\xff\xfe", strings.Repeat("long ", 200),
	"\uFFFE", "\u4e2d\u6587", "-- %s %d", ""}

func TestHostileNames(t *testing.T) {
	for _, name := range hostile {
		start := rod(name+"1", name+"2")
		s := piece(start).by(kw, to(7)).fire(kw)
		story := picture.Of(picture.Source{Name: name, Entries: s.entries})
		for _, f := range []picture.Figure{story.Strain(), story.Hardness(), story.Heat(), story.Shape(),
			picture.Class(picture.Lesson{Title: name, Stories: []picture.Story{story}, Called: func(schedule.ID) string { return name }})} {
			f.ID = name
			svg := picture.SVG(f)
			texts := requireInert(t, svg)
			require.NotContains(t, texts, "\u202e")
			require.Regexp(t, `aria-labelledby="p[A-Za-z0-9-]*-title p[A-Za-z0-9-]*-desc"`, string(svg))
			requireFits(t, picture.Text(f, picture.Terminal{Columns: 78}), 78, false)
			requireFits(t, picture.Text(f, picture.Terminal{Columns: 40, Plain: true}), 40, true)
		}
		_, err := picture.PNG(story.Strain())
		require.NoError(t, err)
	}
}

// requireFits wants a text that a terminal shows as it stands.
func requireFits(t require.TestingT, text string, columns int, plain bool) {
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		require.LessOrEqual(t, utf8.RuneCountInString(line), columns, line)
		require.True(t, utf8.ValidString(line))
		require.NotContains(t, line, "\x1b")
		if plain {
			require.Equal(t, len(line), utf8.RuneCountInString(line), "nothing but ASCII: %q", line)
		}
	}
}

// A picture says what it is to those who do not see it, in sentences with figures.
func TestSpokenFor(t *testing.T) {
	for name, f := range figures(t) {
		svg := string(picture.SVG(f))
		require.Contains(t, svg, `role="img" aria-labelledby="`, name)
		require.Contains(t, svg, "<title id=\"p-"+f.ID+"-title\">", name)
		require.Contains(t, svg, "<desc id=\"p-"+f.ID+"-desc\">", name)
		require.Regexp(t, `^[A-Z].*\.$`, f.Desc, name)
	}
}

// Lines of one panel are told apart without colour, and the letters are 8 points or
// more where the picture is printed at its width of 160 mm.
func TestReadsInGreyPrint(t *testing.T) {
	for name, f := range figures(t) {
		for _, p := range f.Panels {
			looks := map[string]string{}
			for _, s := range p.Series {
				look := fmt.Sprint(s.Stroke, s.Marker, s.Fill)
				if s.Name != "" && looks[look] != "" {
					require.Equal(t, looks[look], s.Name, name)
				}
				looks[look] = s.Name
			}
		}
		svg := string(picture.SVG(f))
		for _, colour := range strings.Split(svg, `"#`)[1:] {
			require.Equal(t, colour[0:2], colour[2:4], name)
			require.Equal(t, colour[2:4], colour[4:6], name)
		}
		for _, rest := range strings.Split(svg, `font-size="`)[1:] {
			var mm float64
			_, err := fmt.Sscanf(rest, "%g", &mm)
			require.NoError(t, err)
			require.GreaterOrEqual(t, mm/25.4*72, 8., name)
		}
	}
}

// A PNG is as wide as 160 mm are at 200 dots to the inch, has ink, and not too much,
// and says its title.
func TestPNG(t *testing.T) {
	for name, f := range figures(t) {
		out, err := picture.PNG(f)
		require.NoError(t, err)
		img, err := png.Decode(bytes.NewReader(out))
		require.NoError(t, err, name)
		grey, ok := img.(*image.Gray)
		require.True(t, ok, "one byte a dot")
		require.Equal(t, 1260, grey.Rect.Dx())
		ink := 0
		for _, dot := range grey.Pix {
			if dot < 128 {
				ink++
			}
		}
		share := float64(ink) / float64(len(grey.Pix))
		require.Greater(t, share, 0.005, name)
		require.Less(t, share, 0.15, name)
		require.Contains(t, string(out), "Description\x00\x00\x00\x00\x00"+f.Desc)
	}
}

func TestTrial(t *testing.T) {
	shop := trial.Usual()
	shop.Pieces = 200
	r := trial.Run(shop)
	f := picture.Trial(r)
	require.NotEmpty(t, f.Panels[0].Series)
	for _, s := range f.Panels[0].Series {
		for _, q := range s.Points {
			want, ok := r.Policy(s.Name).At(q.X)
			require.True(t, ok)
			require.InDelta(t, want, q.Y, 0, s.Name)
		}
	}
	requireInert(t, picture.SVG(f))
	require.Equal(t, "No trial was made.", picture.Trial(trial.Result{}).Desc)
}

func TestZeroFigure(t *testing.T) {
	requireInert(t, picture.SVG(picture.Figure{}))
	_, err := picture.PNG(picture.Figure{})
	require.NoError(t, err)
	require.NotPanics(t, func() { picture.Text(picture.Figure{}, picture.Terminal{}) })
	require.NotEmpty(t, picture.Of(picture.Source{}).Strain().Desc)
}

// The rows that a screen has are kept, where every plot can have its least.
func TestTextInRows(t *testing.T) {
	for name, f := range figures(t) {
		if len(f.Panels) > 1 || f.Panels[0].Even {
			continue
		}
		for _, rows := range []int{14, 20, 36} {
			text := picture.Text(f, picture.Terminal{Columns: 78, Rows: rows, Bare: true})
			require.LessOrEqual(t, strings.Count(text, "\n"), rows, "%s in %d rows", name, rows)
		}
	}
}
