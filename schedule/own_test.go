package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/schedule"
)

// quayFile is an invented metal of the Saltmarsh Quay class.
const quayFile = `id,name,uns,fineness,names,family,composition,self_softening
QUAY,quay silver,,940,,silver,"94 % Ag, 6 % Cu",no
alloy,property,form,condition,school,at,at_kind,low,high,bound,unit,use,source,confidence,note
QUAY,solidus,,,,,,779,779,,C,default,NIST_AGCU,read,
QUAY,anneal,,,,,,600,650,,C,default,class,practice,
QUAY,limit,hand,wrought,class,,,50,50,,pct_thickness,default,class,practice,
QUAY,limit,hand,cast,class,,,20,20,,pct_area,default,class,judgement,
key,author,title,year,locator
class,the class at Saltmarsh Quay,notes,n.d.,page 1
`

func quayBook(t *testing.T) *alloys.Book {
	t.Helper()
	own, err := alloys.ReadOwn("own.csv", strings.NewReader(quayFile))
	require.NoError(t, err)
	return alloys.Default().With(own)
}

func TestFoldInKnowsOwnAlloys(t *testing.T) {
	h, book := start(wrought("QUAY")), quayBook(t)
	require.NoError(t, schedule.AcceptIn(book, nil, h[0], h.now()))
	require.ErrorContains(t, schedule.Accept(nil, h[0], h.now()), `no alloy is called "QUAY"`)
	s := schedule.FoldIn(book, h)
	require.True(t, s.Alloy.Own)
	a := s.Advise(h.now(), nil)
	require.Equal(t, schedule.VerdictCarryOn, a.Verdict)
	require.Contains(t, strings.Join(a.Reasons, "\n"),
		"limit: 50 % of thickness between anneals (strain 0.800), 0 % of it spent; your own figure, more than the 45 % of thickness that sterling is given")
	require.Equal(t, book.Version(), a.Keep(h[0], h.now()).Body.(schedule.Shown).Table)
	require.Contains(t, a.Sources, "class: the class at Saltmarsh Quay, notes, page 1")
}

func TestAnOwnAlloyWithoutItsTableIsNoCarryOn(t *testing.T) {
	h := start(wrought("QUAY"))
	s := schedule.Fold(h)
	require.NotEmpty(t, s.Silenced, "the file was taken away")
	require.NotEqual(t, schedule.VerdictCarryOn, s.Advise(h.now(), nil).Verdict)
}

func TestPieceFoldsInItsBook(t *testing.T) {
	book := quayBook(t)
	h := start(cast("QUAY"))
	p := schedule.Piece{Book: book}
	for _, e := range h {
		p.Add(e)
		require.Equal(t, schedule.FoldIn(book, h[:1]).Alloy.ID, p.State.Alloy.ID)
	}
	require.Equal(t, "20 % of area", p.State.Advise(h.now(), nil).Limit.Text)
	require.Contains(t, strings.Join(p.State.Advise(h.now(), nil).Reasons, "\n"), "; your own figure")
	void := entryAt(len(h), schedule.Void{Target: h[0].ID})
	p.Add(void)
	require.False(t, p.State.Started)
	p.Add(entryAt(len(h)+1, schedule.Void{Target: void.ID}))
	require.True(t, p.State.Alloy.Own, "a refold keeps the book")
}

func TestFoldInOfTheEmbeddedBook(t *testing.T) {
	h := start(wrought("AG925"))
	require.Equal(t, schedule.Fold(h), schedule.FoldIn(nil, h))
	require.False(t, h.advice().Limit.Own, "no embedded figure is the smith's own")
}
