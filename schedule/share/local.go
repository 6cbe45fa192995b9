package share

import (
	"fmt"

	"dullred/schedule"
	"dullred/schedule/record"
)

// OwnBench is the label of the bench that a record belongs to. The labels of other
// benches that come in get another text, so that a record never takes one for its own.
const OwnBench = "bench"

// Local is the record of a bench, as a carrier sees it. Others write to it meanwhile.
type Local interface {
	// Watch calls notify when anybody writes, or gives an error where there are no
	// events and Changed must be asked now and then.
	Watch(notify func()) (stop func() error, err error)
	// Changed reports whether anybody else has written since it was last asked.
	Changed() (bool, error)
	// Count is the number of rows.
	Count() (int, error)
	// IDs are up to most ids after an id, in their order.
	IDs(after string, most int) ([]string, error)
	// Since are up to most ids of what happened at a time, in microseconds since 1970 UTC,
	// or later, in their order.
	Since(at int64, most int) ([]string, error)
	// Rows are the rows with some ids, those that are there.
	Rows(ids ...string) ([]schedule.Row, error)
	// Piece is the rows of a piece.
	Piece(id string) ([]schedule.Row, error)
	// Labels are all names.
	Labels() ([]Label, error)
	// Append stores everything or nothing; of alerts those whose ids are not known.
	Append(labels []Label, alerts, rows []schedule.Row) error
}

// Beside is a record as a carrier sees it. The carrier does not close it.
func Beside(r *record.Record) Local { return beside{r} }

type beside struct{ *record.Record }

func (b beside) Rows(ids ...string) ([]schedule.Row, error) { return scheduled(b.Record.Rows(ids...)) }

func (b beside) Piece(id string) ([]schedule.Row, error) { return scheduled(b.Record.Piece(id)) }

func (b beside) Labels() (all []Label, err error) {
	for _, class := range []record.Class{record.BenchClass, record.HandClass, record.PieceClass} {
		labels, err := b.Record.Labels(class)
		if err != nil {
			return nil, err
		}
		for _, l := range labels {
			all = append(all, Label{ID: l.ID, Class: string(l.Class), Text: l.Text})
		}
	}
	return all, nil
}

func (b beside) Append(labels []Label, alerts, rows []schedule.Row) error {
	var named []record.Label
	for _, l := range labels {
		named = append(named, record.Label{ID: l.ID, Class: record.Class(l.Class), Text: l.Text})
	}
	return b.Record.AppendWith(named, recorded(alerts), recorded(rows)...)
}

func scheduled(rows []record.Row, err error) ([]schedule.Row, error) {
	if err != nil {
		return nil, fmt.Errorf("the record of this bench: %w", err)
	}
	out := make([]schedule.Row, len(rows))
	for i, r := range rows {
		out[i] = schedule.Row(r)
	}
	return out, nil
}

func recorded(rows []schedule.Row) []record.Row {
	out := make([]record.Row, len(rows))
	for i, r := range rows {
		out[i] = record.Row(r)
	}
	return out
}

// ownBench is the id of the bench that labels belong to, "" before its first entry.
func ownBench(labels []Label) string {
	for _, l := range labels {
		if l.Class == string(record.BenchClass) && l.Text == OwnBench {
			return l.ID
		}
	}
	return ""
}
