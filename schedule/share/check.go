package share

import (
	"errors"
	"fmt"
	"strings"

	"github.com/google/uuid"

	"dullred/schedule"
	"dullred/schedule/exchange"
)

// errNUL is of text that PostgreSQL has no way to keep
// (https://www.postgresql.org/docs/15/datatype-character.html: "The character with the
// code zero cannot be stored").
var errNUL = errors.New("it holds the character U+0000, which a shared record cannot keep")

// CheckRow refuses a row that a shared record does not take, with schedule.ErrRow: one
// that exchange.CheckRow refuses, or that holds the character U+0000.
func CheckRow(r schedule.Row) error {
	if err := exchange.CheckRow(r); err != nil {
		return err
	}
	for _, text := range []string{r.Zones, r.Kind, r.Process, r.Shape, r.Body} {
		if strings.ContainsRune(text, 0) {
			return fmt.Errorf("%w %.60q: %w", schedule.ErrRow, r.ID, errNUL)
		}
	}
	return nil
}

// CheckLabel refuses a label that a shared record does not take, with
// exchange.ErrLabel: one that exchange.CheckLabel refuses, whose id is no UUID in lower
// case, or that holds the character U+0000.
func CheckLabel(l Label) error {
	if err := exchange.CheckLabel(exchange.Label(l)); err != nil {
		return err
	}
	if len(l.ID) != 36 || uuid.Validate(l.ID) != nil || strings.ToLower(l.ID) != l.ID {
		return fmt.Errorf("%w: %.60q is not an id", exchange.ErrLabel, l.ID)
	}
	if strings.ContainsRune(l.Text, 0) {
		return fmt.Errorf("%w of the id %.60q: %w", exchange.ErrLabel, l.ID, errNUL)
	}
	return nil
}

// Check refuses a batch that a shared record does not take from a bench: with
// schedule.ErrRow or exchange.ErrLabel, or with ErrForged for what is of another bench.
func (b Batch) Check(bench string) error {
	for _, l := range b.Labels {
		if err := CheckLabel(l); err != nil {
			return err
		}
		if l.Class == "bench" && l.ID != bench {
			return fmt.Errorf("%w: the name of the bench %s", ErrForged, l.ID)
		}
	}
	for _, r := range b.Rows {
		if err := CheckRow(r); err != nil {
			return err
		}
		if r.Bench != bench {
			return fmt.Errorf("%w: the entry %s is of the bench %s", ErrForged, r.ID, r.Bench)
		}
	}
	return nil
}

// SameAlert reports whether two rows under one id are an alert that two benches found:
// its id follows from its cause, and the first that is stored stands.
func SameAlert(a, b schedule.Row) bool {
	return isAlert(a) && a.Kind == b.Kind && a.Piece == b.Piece
}
