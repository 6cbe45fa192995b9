package record

// firsts goes from piece to piece by the index, as lately does from hand to hand, and
// takes the first entry of each: the number of pieces matters, not of entries.
const firsts = `WITH RECURSIVE known (piece) AS (
		SELECT min(piece) FROM entry
		UNION ALL
		SELECT (SELECT min(piece) FROM entry WHERE piece > known.piece) FROM known WHERE known.piece IS NOT NULL
	) ` + selectEntry + `WHERE id IN (
		SELECT (SELECT id FROM entry AS own WHERE own.piece = known.piece ORDER BY at, id LIMIT 1) FROM known
	) ORDER BY at, id`

// Firsts gives the first entry of every piece, in the order (at, id). Entries about no
// piece count as those of one more.
func (r *Record) Firsts() ([]Row, error) { return collect(r.read(r.db.Query(firsts))) }
