package main

import (
	"fmt"
	"slices"

	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/schedule/share"
)

// identity is a bench and a hand, with the labels that are not yet in the record.
type identity struct {
	bench, hand schedule.ID
	fresh       []record.Label
}

// identify finds the ids of this bench and hand, or makes new ones whose labels
// go into the record with the first entry.
func (b *bench) identify(hand string) (who identity, err error) {
	id, found, err := b.rec.LabelID(record.BenchClass, share.OwnBench)
	if err != nil {
		return who, err
	}
	who.bench = schedule.ID(id)
	if !found {
		who.bench = who.make(record.BenchClass, share.OwnBench)
	}
	id, found, err = b.rec.LabelID(record.HandClass, hand)
	if err != nil {
		return who, err
	}
	if who.hand = schedule.ID(id); found {
		found, err = b.ours(who.bench, who.hand)
	}
	if err != nil || found {
		return who, err
	}
	if id != "" {
		err = b.another(&who, schedule.ID(id), hand)
	}
	who.hand = who.make(record.HandClass, hand)
	return who, err
}

// make is a new id with a label that the record is to get.
func (who *identity) make(class record.Class, text string) schedule.ID {
	id := schedule.NewID()
	who.fresh = append(who.fresh, record.Label{ID: string(id), Class: class, Text: text})
	return id
}

// ours reports whether a hand is one that a bench made: the first entry of the hand is
// of that bench. In a record of one bench all of them are.
func (b *bench) ours(bench, hand schedule.ID) (bool, error) {
	benches, err := b.rec.Labels(record.BenchClass)
	if err != nil || !slices.ContainsFunc(benches, func(l record.Label) bool { return schedule.ID(l.ID) != bench }) {
		return err == nil, err
	}
	for row, err := range b.rec.Search(record.Search{Hand: string(hand)}) {
		return schedule.ID(row.Bench) == bench, err
	}
	return false, nil
}

// another gives the hand of another bench, whose name is wanted here, a number, as if it
// had come in later. Nobody else sees that.
func (b *bench) another(who *identity, hand schedule.ID, text string) error {
	hands, err := b.rec.Labels(record.HandClass)
	if err != nil {
		return err
	}
	free := text
	for n := 2; slices.ContainsFunc(hands, func(l record.Label) bool { return record.Fold(l.Text) == record.Fold(free) }); n++ {
		free = fmt.Sprintf("%s %d", text, n)
	}
	who.fresh = append(who.fresh, record.Label{ID: string(hand), Class: record.HandClass, Text: free})
	return nil
}

// makeRoom has a hand that came in under the name of a fresh one get another name with
// the fresh labels.
func (b *bench) makeRoom() error {
	var who identity
	for _, l := range b.here.fresh {
		if l.ID != string(b.here.bench) && l.ID != string(b.here.hand) {
			continue // a hand that was to get another name
		}
		id, found, err := b.rec.LabelID(l.Class, l.Text)
		if err == nil && found && id != l.ID && l.Class == record.HandClass {
			err = b.another(&who, schedule.ID(id), l.Text)
		}
		if err != nil {
			return err
		}
		who.fresh = append(who.fresh, l)
	}
	b.here.fresh = who.fresh
	return nil
}
