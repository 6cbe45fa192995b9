package schedule

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Row is an entry as it is kept: the envelope, the figures in columns of their
// own so that they can be scanned, and the rest as JSON. Zero means absent in a
// figure. A store has a Row of the same make, so that each converts to the other.
type Row struct {
	ID                 string // UUID, 36 characters
	At                 int64  // when it happened, microseconds since 1970 UTC
	Written            int64  // when it was typed
	Bench, Hand, Piece string // ids
	Zones              string // zone names joined by U+001F; "" is the whole piece
	Kind               string
	Version            int64
	Process            string
	Count              int64
	Shape              string
	Thick, Width       float64 // mm
	Diameter           float64 // mm
	Ring, Length       float64 // mm
	Temp               float64 // °C
	Body               string  // JSON
}

const zoneSeparator = "\x1f"

// bodyVersion is the version of every body this version writes.
const bodyVersion = 1

// ErrRow is returned by Decode for a row that cannot be an entry.
var ErrRow = errors.New("damaged entry")

// decoders has one reader per kind.
var decoders = map[Kind]func(Row) (Body, error){
	KindStarted: decode[Started], KindPass: decode[Pass], KindMeasured: decode[Measured],
	KindBegun: decode[Begun], KindReached: decode[Reached], KindOut: decode[Out],
	KindQuenched: decode[Quenched], KindSoft: decode[Soft], KindSpringy: decode[Springy],
	KindCrackSeen: decode[CrackSeen], KindCrackFiled: decode[CrackFiled],
	KindCrackIgnored: decode[CrackIgnored], KindFiled: decode[Filed], KindDressed: decode[Dressed],
	KindShown: decode[Shown], KindRaised: decode[Raised], KindAcknowledged: decode[Acknowledged],
	KindNote: decode[Note], KindVoid: decode[Void], KindSign: decode[Signalled],
	KindCool: decode[FoundCool], KindPickled: decode[Pickled], KindRinsed: decode[Rinsed],
	KindTorchLit: decode[TorchLit], KindTorchOut: decode[TorchOut], KindLight: decode[Lit],
	KindClockStep: decode[ClockStep], KindNoise: decode[Noise], KindBath: decode[Bath],
	KindJoint: decode[Jointed], KindTrace: decode[Trace], KindFluxed: decode[Fluxed],
	KindPlan: decode[Planned], KindDrilled: decode[Drilled],
	KindLoosened: decode[Loosened], KindWeighed: decode[Weighed], KindPhoto: decode[Photo], KindFinished: decode[Finished],
}

// Encode is the row of an entry. An Unknown gives back the row it came from.
func Encode(e Entry) (Row, error) {
	if u, ok := e.Body.(Unknown); ok {
		return u.Row, nil
	}
	r := Row{
		ID: string(e.ID), At: e.At.UnixMicro(), Written: e.Written.UnixMicro(),
		Bench: string(e.Bench), Hand: string(e.Hand), Piece: string(e.Piece),
		Zones: strings.Join(e.Zones, zoneSeparator), Kind: string(e.Kind()), Version: bodyVersion,
	}
	body, err := json.Marshal(e.Body)
	if err != nil {
		return Row{}, fmt.Errorf("encode %s: %w", e.Kind(), err)
	}
	if string(body) != "{}" {
		r.Body = string(body)
	}
	if c, ok := pointer(e.Body).(columned); ok {
		c.put(&r)
	}
	return r, nil
}

// Decode is the entry of a row. A kind or version this version does not know
// comes back as Unknown; a row that cannot be an entry is ErrRow.
func Decode(r Row) (Entry, error) {
	e, err := envelope(r)
	if err != nil {
		return Entry{}, fmt.Errorf("%w %.60q: %w", ErrRow, r.ID, err)
	}
	read, known := decoders[Kind(r.Kind)]
	if !known || r.Version > bodyVersion {
		e.Body = Unknown{Row: r, Why: fmt.Sprintf("this version of dullred does not read %.60q entries (version %d)", r.Kind, r.Version)}
		return e, nil
	}
	if e.Body, err = read(r); err != nil {
		return Entry{}, fmt.Errorf("%w %s: %w", ErrRow, r.ID, err)
	}
	return e, nil
}

// DecodeAll is every row as an entry; one that is damaged is kept as Unknown
// with the reason, so that it silences the advice of its piece and no other.
func DecodeAll(rows []Row) []Entry {
	entries := make([]Entry, 0, len(rows))
	for _, r := range rows {
		e, err := Decode(r)
		if err != nil {
			e = Entry{ID: ID(r.ID), At: time.UnixMicro(r.At).UTC(), Piece: ID(r.Piece),
				Body: Unknown{Row: r, Why: err.Error()}}
		}
		entries = append(entries, e)
	}
	return entries
}

func envelope(r Row) (Entry, error) {
	for _, id := range []string{r.ID, r.Bench, r.Hand, r.Piece} {
		if len(id) != 36 || uuid.Validate(id) != nil {
			return Entry{}, fmt.Errorf("%.60q is not an id", id)
		}
	}
	e := Entry{ID: ID(r.ID), At: time.UnixMicro(r.At).UTC(), Written: time.UnixMicro(r.Written).UTC(),
		Bench: ID(r.Bench), Hand: ID(r.Hand), Piece: ID(r.Piece), Version: int(r.Version)}
	if r.Version < 1 {
		return Entry{}, fmt.Errorf("version %d: the first is 1", r.Version)
	}
	for _, t := range []time.Time{e.At, e.Written} {
		if !Plausible(t) {
			return Entry{}, fmt.Errorf("year %d is not believable", t.Year())
		}
	}
	if r.Zones != "" {
		e.Zones = strings.Split(r.Zones, zoneSeparator)
	}
	return e, checkZones(e.Zones)
}

func decode[T Body](r Row) (Body, error) {
	var body T
	if r.Body != "" {
		d := json.NewDecoder(strings.NewReader(r.Body))
		d.DisallowUnknownFields()
		if err := d.Decode(&body); err != nil {
			return nil, fmt.Errorf("%s: %w", r.Kind, err)
		}
		if _, err := d.Token(); !errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("%s: text after the body", r.Kind)
		}
	}
	if c, ok := any(&body).(columned); ok {
		c.take(r)
	}
	if c, ok := any(body).(checked); ok {
		if err := c.check(); err != nil {
			return nil, fmt.Errorf("%s: %w", r.Kind, err)
		}
	}
	return body, checkColumns(body, r)
}
