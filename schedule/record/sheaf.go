package record

import (
	"container/heap"
	"database/sql"
	"fmt"
)

// A strand is the entries of one key, of which a few are read ahead: more each time,
// since one that was read on is likely to be read on.
type strand struct {
	key   string
	ahead []Row  // nil until the strand is come to
	at    int64  // of the last that was read, or of the first that is to be
	id    string // of the last; before the first it is before every id, or behind
	chunk int
}

const (
	firstChunk = 4
	mostChunk  = 128
	behind     = "\U0010FFFF" // every id
)

// place is where a strand is.
func (s *strand) place() spot {
	if len(s.ahead) > 0 {
		return spot{at: s.ahead[0].At, id: s.ahead[0].ID}
	}
	return spot{at: s.at, id: s.id}
}

// sheaf is a heap of strands by the place of each.
type sheaf struct {
	strands []*strand
	next    *sql.Stmt // reads on
	newest  bool
	bound   int64 // the last moment of the span, or its first where the newest come first
}

func (h *sheaf) Len() int      { return len(h.strands) }
func (h *sheaf) Swap(i, j int) { h.strands[i], h.strands[j] = h.strands[j], h.strands[i] }
func (h *sheaf) Less(i, j int) bool {
	return before(h.strands[i].place(), h.strands[j].place(), h.newest)
}
func (h *sheaf) Push(x any) { h.strands = append(h.strands, x.(*strand)) }
func (h *sheaf) Pop() any {
	last := h.strands[len(h.strands)-1]
	h.strands = h.strands[:len(h.strands)-1]
	return last
}

func before(a, b spot, newest bool) bool {
	if newest {
		a, b = b, a
	}
	return a.at < b.at || a.at == b.at && a.id < b.id
}

// begin takes on the strands that a query found, each with the moment it begins at.
func (h *sheaf) begin(rows *sql.Rows) error {
	defer rows.Close()
	for rows.Next() {
		s := &strand{chunk: firstChunk}
		if err := rows.Scan(&s.key, &s.at); err != nil {
			return fmt.Errorf("%w: %v", ErrDamaged, err)
		}
		if h.newest {
			s.id = behind
		}
		h.strands = append(h.strands, s)
	}
	return rows.Err()
}

// first is the entry that comes next, or that the strand it is on was not read yet.
func (h *sheaf) first() (row *Row, fresh bool) {
	s := h.strands[0]
	if len(s.ahead) == 0 {
		return nil, true
	}
	return &s.ahead[0], false
}

// advance puts the first strand in its new place, or lets it go at its end.
func (h *sheaf) advance(fresh bool) error {
	s := h.strands[0]
	if !fresh {
		s.ahead = s.ahead[1:]
	}
	if len(s.ahead) == 0 {
		if err := h.read(s); err != nil {
			return err
		}
	}
	if len(s.ahead) == 0 {
		heap.Pop(h)
		return nil
	}
	heap.Fix(h, 0)
	return nil
}

// read reads a strand on. It stays empty at its end.
func (h *sheaf) read(s *strand) error {
	if s.chunk == 0 {
		return nil
	}
	rows, err := collect(scan(h.next.Query(s.key, s.at, s.id, h.bound, s.chunk)))
	if err != nil || len(rows) == 0 {
		return err
	}
	last := rows[len(rows)-1]
	s.ahead, s.at, s.id = rows, last.At, last.ID
	if len(rows) < s.chunk {
		s.chunk = 0 // that was the end
	} else {
		s.chunk = min(4*s.chunk, mostChunk)
	}
	return nil
}
