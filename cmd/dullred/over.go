package main

import (
	"time"

	"dullred/schedule"
	"dullred/schedule/record"
)

// leftFor is how long a piece stays on the bench after it was finished.
const leftFor = 24 * time.Hour

// over reports whether nothing more is to be seen of a piece at the bench: its last word,
// a day ago or earlier, is that it is finished, and it lies cold outside the pickle. That
// is told by the kinds of its entries alone, a twentieth of what folding them costs.
// Where they leave a doubt, the piece is not over.
func (d desk) over(piece string) (bool, error) {
	if d.now == nil {
		return false, nil
	}
	before := d.now().Add(-leftFor).UnixMicro()
	first, cold, dry := true, false, false
	for row, err := range d.bench.rec.Trail(piece) {
		kind := schedule.Kind(row.Kind)
		switch {
		case err != nil:
			return false, err
		case first && (kind != schedule.KindFinished || row.At >= before):
			return false, nil
		case kind == schedule.KindVoid:
			return false, nil // it may be the end that was taken back, by a clock that was behind
		case !ended(ofHeat, row, &cold) || !ended(ofPickle, row, &dry):
			return false, nil
		}
		first = false
	}
	return !first, nil
}

// The kinds that begin something, false, and those that end it.
var (
	ofHeat = map[schedule.Kind]bool{schedule.KindBegun: false, schedule.KindReached: false, schedule.KindOut: false,
		schedule.KindQuenched: true, schedule.KindCool: true}
	ofPickle = map[schedule.Kind]bool{schedule.KindPickled: false, schedule.KindRinsed: true}
)

// ended reports whether something is known to have ended for the whole piece, or not to
// have begun, once an entry was read on the way back.
func ended(of map[schedule.Kind]bool, row record.Row, already *bool) bool {
	ends, concerns := of[schedule.Kind(row.Kind)]
	if *already || !concerns {
		return true
	}
	*already = ends && row.Zones == ""
	return *already
}
