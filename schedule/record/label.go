package record

import (
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	sqlite3 "modernc.org/sqlite/lib"
)

// Class says what a label names.
type Class string

// The classes of labels.
const (
	PieceClass Class = "piece"
	HandClass  Class = "hand"
	BenchClass Class = "bench"
)

// Label is what people call the piece, hand or bench with an id. No two labels
// of one class bear the same text, upper and lower case being the same.
type Label struct {
	ID    string
	Class Class
	Text  string
}

func (l Label) check() error {
	if !slices.Contains([]Class{PieceClass, HandClass, BenchClass}, l.Class) {
		return fmt.Errorf("label %q: no class %q", l.Text, l.Class)
	}
	if l.ID == "" || l.Text == "" {
		return fmt.Errorf("label %q of id %q: neither may be empty", l.Text, l.ID)
	}
	return nil
}

func (l Label) store(tx executor) error {
	_, err := tx.Exec(`INSERT INTO label (id, class, text, folded) VALUES (?, ?, ?, ?)
		ON CONFLICT (id) DO UPDATE SET class = excluded.class, text = excluded.text, folded = excluded.folded`,
		l.ID, l.Class, l.Text, Fold(l.Text))
	if code(err) == sqlite3.SQLITE_CONSTRAINT_UNIQUE {
		return fmt.Errorf("%s %q: %w", l.Class, l.Text, ErrNameTaken)
	}
	return err
}

type executor interface {
	Exec(query string, args ...any) (sql.Result, error)
}

// Fold maps all spellings of a text that strings.EqualFold calls equal to one.
// SQLite itself folds the letters a to z only.
func Fold(text string) string {
	return strings.Map(func(r rune) rune {
		least := r
		for other := unicode.SimpleFold(r); other != r; other = unicode.SimpleFold(other) {
			least = min(least, other)
		}
		return least
	}, text)
}

// Labels gives the labels of a class in the order of their texts.
func (r *Record) Labels(class Class) ([]Label, error) {
	labels, err := labelsIn(r.db.Query(`SELECT id, class, text FROM label WHERE class = ? ORDER BY folded`, class))
	if err != nil {
		return nil, r.fail("read", err)
	}
	return labels, nil
}

// labelsIn are the labels that a query for three columns found.
func labelsIn(rows *sql.Rows, err error) (labels []Label, _ error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var label Label
		if err := rows.Scan(&label.ID, &label.Class, &label.Text); err != nil {
			return nil, fmt.Errorf("%w: %v", ErrDamaged, err)
		}
		labels = append(labels, label)
	}
	return labels, rows.Err()
}

// LabelNamed gives the label of a class that bears the text, upper and lower
// case being the same, and false when none does.
func (r *Record) LabelNamed(class Class, text string) (Label, bool, error) {
	label := Label{Class: class}
	err := r.db.QueryRow(`SELECT id, text FROM label WHERE class = ? AND folded = ?`, class, Fold(text)).Scan(&label.ID, &label.Text)
	if errors.Is(err, sql.ErrNoRows) {
		return Label{}, false, nil
	}
	if err != nil {
		return Label{}, false, r.fail("read", err)
	}
	return label, true, nil
}

// LabelID gives the id that LabelNamed finds.
func (r *Record) LabelID(class Class, text string) (string, bool, error) {
	label, found, err := r.LabelNamed(class, text)
	return label.ID, found, err
}

// Forget erases the label of an id; its entries stay. All other labels are written
// anew, because a page that was once split keeps old names in bytes that nothing
// overwrites before the page is let go; then the log is emptied. Should another program be reading for
// longer than five seconds, traces stay in the log until the last program
// closes the record. An id without a label is no error.
func (r *Record) Forget(id string) error {
	r.writing.Lock()
	defer r.writing.Unlock()
	if err := r.rewriteLabels(id); err != nil {
		return r.fail("forget", err)
	}
	if _, err := r.pen.Exec(`PRAGMA wal_checkpoint(TRUNCATE)`); err != nil {
		return r.fail("forget", err)
	}
	return nil
}

// rewriteLabels empties the table of labels, whose pages are then overwritten, and
// fills it again without one id.
func (r *Record) rewriteLabels(without string) error {
	tx, err := r.pen.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	kept, err := labelsBut(tx, without)
	if err != nil {
		return err
	}
	if _, err := tx.Exec(`DELETE FROM label`); err != nil {
		return err
	}
	for _, l := range kept {
		if _, err := tx.Exec(`INSERT INTO label (id, class, text, folded) VALUES (?, ?, ?, ?)`, l[0], l[1], l[2], l[3]); err != nil {
			return err
		}
	}
	return tx.Commit()
}

// labelsBut are the rows of all labels but that of one id.
func labelsBut(tx *sql.Tx, id string) (rows [][4]string, err error) {
	found, err := tx.Query(`SELECT id, class, text, folded FROM label WHERE id <> ? ORDER BY id`, id)
	if err != nil {
		return nil, err
	}
	defer found.Close()
	for found.Next() {
		var l [4]string
		if err := found.Scan(&l[0], &l[1], &l[2], &l[3]); err != nil {
			return nil, err
		}
		rows = append(rows, l)
	}
	return rows, found.Err()
}
