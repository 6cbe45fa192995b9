package schedule

import (
	"cmp"
	"slices"
	"time"

	"github.com/google/uuid"
)

// ID names an entry, a piece, a hand or a bench: a UUID in its usual text form.
// Names that people read are labels kept elsewhere, so that a hand can be
// forgotten without touching an entry.
type ID string

// NewID is a fresh UUIDv7 (RFC 9562), ordered by the time it was made.
func NewID() ID { return ID(uuid.Must(uuid.NewV7()).String()) }

// namespace keeps the derived ids of this program apart from all others.
var namespace = uuid.MustParse("0198f4b6-5c1e-7d2a-9b40-6f1a2d3c4e5f")

// DerivedID is the id of an entry that must be written once however often its
// cause is found: the same cause and kind give the same id (UUIDv5, SHA-1).
func DerivedID(cause string, k Kind) ID {
	return ID(uuid.NewSHA1(namespace, []byte(string(k)+"\x00"+cause)).String())
}

// Entry is one thing that happened. The envelope is final; kinds may be added.
type Entry struct {
	ID      ID
	At      time.Time // when it happened
	Written time.Time // when it was typed
	Bench   ID
	Hand    ID
	Piece   ID
	Zones   []string // zones it touched; empty is the whole piece
	Version int      // of the body
	Body    Body
}

// Kind is the kind of the entry's body.
func (e Entry) Kind() Kind {
	if e.Body == nil {
		return ""
	}
	return e.Body.Kind()
}

// Moment is an instant as the record keeps it: UTC to the microsecond, without
// a monotonic reading, so that a live state and a reloaded one are equal.
func Moment(t time.Time) time.Time { return t.Round(0).UTC().Truncate(time.Microsecond) }

// order sorts entries by when they happened, and by id within one instant.
func order(a, b Entry) int {
	return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
}

func sorted(entries []Entry) []Entry {
	out := slices.Clone(entries)
	slices.SortStableFunc(out, order)
	return out
}

// Voided are the entries that a void takes back. A void can be voided in turn;
// voids that name each other in a ring take nothing back.
func Voided(entries []Entry) map[ID]bool {
	voids := map[ID][]ID{} // target -> voids of it
	for _, e := range entries {
		if v, ok := e.Body.(Void); ok {
			voids[v.Target] = append(voids[v.Target], e.ID)
		}
	}
	dead := map[ID]bool{}
	for target := range voids {
		dead[target] = fateOf(target, voids, map[ID]bool{}) == takenBack
	}
	return dead
}

// fate is what the voids make of an entry. In a ring of voids neither is
// settled.
type fate uint8

const (
	stands fate = iota
	unsettled
	takenBack
)

// fateOf follows the voids of an entry, and theirs: one that stands takes the
// entry back, and it stands once all of them are void.
func fateOf(id ID, voids map[ID][]ID, visiting map[ID]bool) fate {
	if visiting[id] {
		return unsettled
	}
	visiting[id] = true
	defer delete(visiting, id)
	out := stands
	for _, v := range voids[id] {
		out = max(out, takenBack-fateOf(v, voids, visiting))
	}
	return out
}

// effective drops the entries that are void, and the voids.
func effective(entries []Entry) []Entry {
	dead := Voided(entries)
	return slices.DeleteFunc(slices.Clone(entries), func(e Entry) bool {
		_, void := e.Body.(Void)
		return void || dead[e.ID]
	})
}
