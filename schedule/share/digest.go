package share

import (
	"crypto/sha256"
	"encoding/binary"
	"math"

	"dullred/schedule"
)

// Digest is what two records are compared by: the first eight bytes, read as a
// big-endian number, of the SHA-256 (FIPS 180-4) of all columns of a row, in the order
// of the fields of schedule.Row. A text is its length in bytes, in four bytes, and its
// UTF-8; a whole number is eight bytes in two's complement; a figure is the eight bytes
// of its binary64 (IEEE 754), where -0, which a record does not tell from 0, is 0. All
// are big-endian. Rows that are equal by == have the same digest. Of an alert only id,
// kind and piece count, so that it is the same on the benches that found it (SameAlert).
func Digest(r schedule.Row) uint64 {
	if isAlert(r) {
		r = schedule.Row{ID: r.ID, Kind: r.Kind, Piece: r.Piece}
	}
	b := make([]byte, 0, 512)
	b = text(b, r.ID)
	b = whole(b, r.At, r.Written)
	b = text(b, r.Bench, r.Hand, r.Piece, r.Zones, r.Kind)
	b = whole(b, r.Version)
	b = text(b, r.Process)
	b = whole(b, r.Count)
	b = text(b, r.Shape)
	b = figures(b, r.Thick, r.Width, r.Diameter, r.Ring, r.Length, r.Temp)
	b = text(b, r.Body)
	sum := sha256.Sum256(b)
	return binary.BigEndian.Uint64(sum[:])
}

func text(b []byte, texts ...string) []byte {
	for _, s := range texts {
		b = binary.BigEndian.AppendUint32(b, uint32(len(s)))
		b = append(b, s...)
	}
	return b
}

func whole(b []byte, numbers ...int64) []byte {
	for _, n := range numbers {
		b = binary.BigEndian.AppendUint64(b, uint64(n))
	}
	return b
}

func figures(b []byte, all ...float64) []byte {
	for _, f := range all {
		if f == 0 {
			f = 0 // of either sign
		}
		b = binary.BigEndian.AppendUint64(b, math.Float64bits(f))
	}
	return b
}

// Sum is the count of some rows and the sum of their digests, modulo 2^64, so that it
// does not depend on their order. The zero Sum is that of no rows.
type Sum struct {
	Count  int64
	Digest uint64
}

// Add is the sum with one row more.
func (s Sum) Add(r schedule.Row) Sum { return Sum{s.Count + 1, s.Digest + Digest(r)} }

// SumsOf are the sums of rows by the ids of their pieces.
func SumsOf(rows []schedule.Row) map[string]Sum {
	sums := map[string]Sum{}
	for _, r := range rows {
		sums[r.Piece] = sums[r.Piece].Add(r)
	}
	return sums
}
