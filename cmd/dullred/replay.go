package main

import (
	"cmp"
	"slices"
	"sync"

	"dullred/schedule"
)

// batch is how many rows are decoded at once.
const batch = 1024

// replay gives every entry of the record in the order (at, id). Rows are
// decoded on one processor while another reads the next.
func (b *bench) replay() ([]schedule.Entry, error) {
	n, err := b.rec.Count()
	if err != nil {
		return nil, err
	}
	entries := make([]schedule.Entry, 0, n) // of a size at once: growing would copy a large record several times
	batches := make(chan []schedule.Row, 8)
	var decoding sync.WaitGroup
	decoding.Go(func() {
		for rows := range batches {
			entries = append(entries, schedule.DecodeAll(rows)...)
		}
	})
	err = b.read(batches)
	close(batches)
	decoding.Wait()
	slices.SortFunc(entries, func(x, y schedule.Entry) int {
		return cmp.Or(x.At.Compare(y.At), cmp.Compare(x.ID, y.ID))
	})
	return entries, err
}

// read sends every row of the record, up to the first error.
func (b *bench) read(batches chan<- []schedule.Row) error {
	rows := make([]schedule.Row, 0, batch)
	for row, err := range b.rec.Stored() {
		if err != nil {
			return err
		}
		if rows = append(rows, schedule.Row(row)); len(rows) == batch {
			batches <- rows
			rows = make([]schedule.Row, 0, batch)
		}
	}
	batches <- rows
	return nil
}
