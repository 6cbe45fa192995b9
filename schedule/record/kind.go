package record

// OfKind gives the entries of one kind in one piece, in the order (at, id).
func (r *Record) OfKind(piece, kind string) ([]Row, error) {
	return collect(r.read(r.db.Query(selectEntry+`WHERE piece = ? AND kind = ? ORDER BY at, id`, piece, kind)))
}
