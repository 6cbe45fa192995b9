package record

import "fmt"

// Report counts what Check found in a sound record.
type Report struct {
	Entries int
	Pieces  int // that an entry is about
	Labels  int
}

// Check reads the whole record and returns ErrDamaged, naming the first fault,
// unless the tree of every table and index is whole (integrity_check,
// https://www.sqlite.org/pragma.html#pragma_integrity_check), tables and
// triggers are as we made them, and every entry and label can be read. It
// cannot know that a figure was changed into another: there are no checksums.
// Others may append meanwhile.
func (r *Record) Check() (Report, error) {
	var report Report
	for _, part := range []func(*Report) error{r.checkTrees, r.checkObjects, r.checkEntries, r.checkLabels} {
		if err := part(&report); err != nil {
			return Report{}, r.fail("check", err)
		}
	}
	return report, nil
}

func (r *Record) checkTrees(*Report) error {
	var verdict string
	if err := r.db.QueryRow(`PRAGMA integrity_check(1)`).Scan(&verdict); err != nil {
		return err
	}
	if verdict != "ok" {
		return fmt.Errorf("%w: %.200q", ErrDamaged, verdict)
	}
	return nil
}

// checkObjects is what Open has done too, but somebody may have come since.
func (r *Record) checkObjects(*Report) error {
	_, err := vetObjects(r.db, migrations)
	return err
}

func (r *Record) checkEntries(report *Report) error {
	pieces := map[string]bool{}
	for row, err := range scan(r.db.Query(selectEntry)) {
		if err != nil {
			return err
		}
		report.Entries++
		if row.Piece != "" {
			pieces[row.Piece] = true
		}
	}
	report.Pieces = len(pieces)
	return nil
}

// checkLabels reads the labels of all classes, and of none, and whether each
// can be found by its text.
func (r *Record) checkLabels(report *Report) error {
	rows, err := r.db.Query(`SELECT id, class, text, folded FROM label`)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var label Label
		var folded string
		if err := rows.Scan(&label.ID, &label.Class, &label.Text, &folded); err != nil {
			return fmt.Errorf("%w: %v", ErrDamaged, err)
		}
		if err := label.check(); err != nil {
			return fmt.Errorf("%w: %v", ErrDamaged, err)
		}
		if folded != Fold(label.Text) {
			return fmt.Errorf("%w: the label %.60q cannot be found by its text", ErrDamaged, label.Text)
		}
		report.Labels++
	}
	return rows.Err()
}
