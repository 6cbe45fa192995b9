package record

import (
	"database/sql"
	"fmt"
	"math"
)

// Row is one entry as stored. In the figures Count, Thick, Width, Diameter,
// Ring, Length and Temp zero means absent, and is stored as NULL. A Row may be
// compared with ==.
type Row struct {
	ID      string // UUIDv7 (RFC 9562), 36 characters, lower case
	At      int64  // when it happened, microseconds since 1970 UTC
	Written int64  // when it was typed, microseconds since 1970 UTC
	Bench   string // id, never a name
	Hand    string // id, never a name
	Piece   string // id, never a name
	Zones   string // zone names joined by U+001F; "" is the whole piece
	Kind    string
	Version int64
	Process string
	Count   int64
	Shape   string

	Thick    float64 // mm
	Width    float64 // mm
	Diameter float64 // mm
	Ring     float64 // mm
	Length   float64 // mm
	Temp     float64 // °C

	Body string // JSON with whatever the kind needs beyond the columns, or ""
}

// columns is the order in which values are written and fields are read.
const columns = `id, at, written, bench, hand, piece, zones, kind, version, process,
	count, shape, thick, width, diameter, ring, length, temp, body`

const insertEntry = `INSERT INTO entry (` + columns + `) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?,
	nullif(?, 0), ?, nullif(?, 0), nullif(?, 0), nullif(?, 0), nullif(?, 0), nullif(?, 0), nullif(?, 0), ?)`

const selectFields = `SELECT id, at, written, bench, hand, piece, zones, kind, version, process,
	ifnull(count, 0), shape, ifnull(thick, 0.0), ifnull(width, 0.0), ifnull(diameter, 0.0),
	ifnull(ring, 0.0), ifnull(length, 0.0), ifnull(temp, 0.0), body FROM `

const selectEntry = selectFields + `entry `

func (row *Row) values() []any {
	return []any{
		row.ID, row.At, row.Written, row.Bench, row.Hand, row.Piece, row.Zones, row.Kind, row.Version, row.Process,
		row.Count, row.Shape, row.Thick, row.Width, row.Diameter, row.Ring, row.Length, row.Temp, row.Body,
	}
}

func (row *Row) fields() []any {
	return []any{
		&row.ID, &row.At, &row.Written, &row.Bench, &row.Hand, &row.Piece, &row.Zones, &row.Kind, &row.Version, &row.Process,
		&row.Count, &row.Shape, &row.Thick, &row.Width, &row.Diameter, &row.Ring, &row.Length, &row.Temp, &row.Body,
	}
}

// check refuses what may be neither stored nor believed when read back. SQLite
// would turn NaN into NULL without a word.
func (row *Row) check() error {
	if !isID(row.ID) {
		return fmt.Errorf("id %q is not a UUID in lower case", row.ID)
	}
	for _, v := range [...]float64{row.Thick, row.Width, row.Diameter, row.Ring, row.Length, row.Temp} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("entry %s: %v is not a figure", row.ID, v)
		}
	}
	return nil
}

// scan reads the row under the cursor into its fields, every one of them.
// Whatever does not fit a Row is damage.
func (row *Row) scan(rows *sql.Rows, fields []any) error {
	err := rows.Scan(fields...)
	if err == nil {
		err = row.check()
	}
	if err != nil {
		return fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	return nil
}
