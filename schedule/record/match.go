package record

// match is a search made ready to be asked of one entry after the other.
type match struct {
	Search
	pieces, kinds, named map[string]bool
}

func newMatch(q Search) match {
	m := match{Search: q, pieces: setOf(q.Pieces), kinds: setOf(q.Kinds)}
	if q.Said != nil {
		m.named = setOf(q.Said.Pieces)
	}
	return m
}

// setOf is nil for nil: no set is not the empty one.
func setOf(texts []string) map[string]bool {
	if texts == nil {
		return nil
	}
	set := make(map[string]bool, len(texts))
	for _, text := range texts {
		set[text] = true
	}
	return set
}

// of reports whether an entry is one of those looked for.
func (m *match) of(row *Row) bool {
	return m.apart(row) && (m.Said == nil || m.named[row.Piece] || m.heard(row))
}

// apart is of, whatever is said.
func (m *match) apart(row *Row) bool {
	switch {
	case !m.holds(row.At), m.Hand != "" && row.Hand != m.Hand:
		return false
	case m.kinds != nil && !m.kinds[row.Kind], m.pieces != nil && !m.pieces[row.Piece]:
		return false
	}
	return true
}

// heard reports whether the text stands in the body of an entry.
func (m *match) heard(row *Row) bool {
	if row.Body == "" || row.Kind == "advice shown" || row.Kind == "probe trace" {
		return false
	}
	return m.Said.In(row.Kind, row.Body)
}

// bare reports whether nothing is asked but a span, and what the index of a way goes by.
func (m *match) bare(w way) bool {
	return m.Said == nil && (m.Hand == "" || w == byHand) && (m.pieces == nil || w == byPiece) && (m.kinds == nil || w == byKind)
}
