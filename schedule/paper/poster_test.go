package paper_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule/paper"
)

func poster(rows int) paper.Poster {
	p := paper.Poster{Title: "sterling silver", Under: "AG925", Foot: "Local rules come first."}
	for range rows {
		p.Rows = append(p.Rows, paper.PosterRow{Head: "heat to", Text: "600 to 650 °C", Size: paper.PosterLarge}, paper.PosterRow{Text: "and no more"})
	}
	return p
}

func TestPosterThatFits(t *testing.T) {
	for rows := 0; ; rows++ {
		d := paper.New(paper.Head{Title: "x"})
		p := poster(rows)
		fits := d.Fits(p)
		d.Poster(p)
		f := read(t, d)
		require.Len(t, f.Pages, 1)
		requireInside(t, f)
		words := strings.Join(f.Words(), " ")
		require.Equal(t, 40.0, f.Pages[0].Texts[0].Size)
		require.NotContains(t, words, "page", "it has no number")
		for _, text := range f.Pages[0].Texts {
			require.GreaterOrEqual(t, text.Size, 14.0)
		}
		require.Equal(t, fits, strings.Contains(words, "Local rules come first."), "%d rows: all of it is there where it fits", rows)
		if !fits {
			require.Greater(t, rows, 8)
			return
		}
	}
}

func TestPosterWithALongTitle(t *testing.T) {
	d := paper.New(paper.Head{Title: "x"})
	p := poster(1)
	p.Title, p.Under = strings.Repeat("long ", 100), strings.Repeat("longer ", 100)
	require.True(t, d.Fits(p))
	d.Poster(p)
	texts := read(t, d).Pages[0].Texts
	require.True(t, strings.HasSuffix(texts[1].Text, "…") && strings.HasSuffix(texts[2].Text, "…"), "two lines and one, with a sign that there is more")
	require.Equal(t, []float64{40, 40, 14}, []float64{texts[0].Size, texts[1].Size, texts[2].Size})
}
