package record

import (
	"cmp"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"slices"
)

// object is a table, index, trigger or view as sqlite_schema describes it.
type object struct{ kind, name, table, text string }

func (o object) String() string { return fmt.Sprintf("%.20s %.60q", o.kind, o.name) }

func byKindAndName(a, b object) int {
	return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.name, b.name))
}

// selectObjects reads the version and every object in one statement, since
// another program may change both in between two. The statistics that ANALYZE
// leaves belong to nobody.
const selectObjects = `SELECT user_version, ` + objectFields + `FROM pragma_user_version LEFT JOIN sqlite_schema ON NOT ` + statistics

// selectOther reads the objects of an attached file whose version is known. Both are
// read within a transaction.
const selectOther = `SELECT ?, ` + objectFields + `FROM other.sqlite_schema WHERE NOT ` + statistics

const (
	objectFields = `ifnull(type, ''), ifnull(name, ''), ifnull(tbl_name, ''), ifnull(sql, '') `
	statistics   = `(type = 'table' AND name IN ('sqlite_stat1', 'sqlite_stat4'))`
)

type querier interface {
	Query(string, ...any) (*sql.Rows, error)
}

// objectsOf gives the version of a file and its objects in order.
func objectsOf(db querier) (version int, found []object, err error) {
	return objectsIn(db.Query(selectObjects))
}

// objectsIn are what a query for five columns found.
func objectsIn(rows *sql.Rows, err error) (version int, found []object, _ error) {
	if err != nil {
		return 0, nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var o object
		if err := rows.Scan(&version, &o.kind, &o.name, &o.table, &o.text); err != nil {
			return 0, nil, fmt.Errorf("%w: %v", ErrDamaged, err)
		}
		if o != (object{}) { // an empty file has a version and nothing else
			found = append(found, o)
		}
	}
	slices.SortFunc(found, byKindAndName)
	return version, found, rows.Err()
}

// objectsMade gives the objects that steps make of an empty file.
func objectsMade(steps []string) ([]object, error) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return nil, err
	}
	defer db.Close()
	db.SetMaxOpenConns(1) // every connection has a memory of its own
	for _, step := range steps {
		if _, err := db.Exec(step); err != nil {
			return nil, err
		}
	}
	_, made, err := objectsOf(db)
	return made, err
}

// sums has, by version, the sum of what the steps make, since making it costs
// more than all the rest of opening a record. A test holds it to the steps.
var sums = []string{
	1: "ba7302ac3f3c594c926c13ce99e44e480f6f53b423a14b8b0e9845638426649a",
	2: "49610f187f9890bfd452d03f4bd44767858eda54bbed299502228e80a1956de3",
}

// sumOf is a SHA-256 over objects in order.
func sumOf(objects []object) string {
	h := sha256.New()
	for _, o := range objects {
		fmt.Fprintf(h, "%q %q %q %q\n", o.kind, o.name, o.table, o.text)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// vetObjects gives the version of a file, and refuses one whose tables,
// indexes and triggers are not to the letter what our steps made: a view in
// place of a table, say, or a trigger that rewrites what is appended.
func vetObjects(db querier, steps []string) (int, error) {
	version, found, err := objectsOf(db)
	if err != nil {
		return 0, err
	}
	return version, vetFound(version, found, steps)
}

func vetFound(version int, found []object, steps []string) error {
	if version > len(steps) {
		return ErrNewer
	}
	if version >= 0 && version < len(sums) && sumOf(found) == sums[version] {
		return nil
	}
	made, err := objectsMade(steps[:max(version, 0)])
	if err != nil {
		return err
	}
	return difference(found, made)
}

// difference names the first object that is not ours, not as we made it or missing.
func difference(found, made []object) error {
	for _, o := range found {
		i, known := slices.BinarySearchFunc(made, o, byKindAndName)
		switch {
		case !known:
			return fmt.Errorf("the %v is not one of its own: %w", o, ErrDamaged)
		case made[i] != o:
			return fmt.Errorf("the %v is not as it was made: %w", o, ErrDamaged)
		}
	}
	for _, o := range made {
		if _, there := slices.BinarySearchFunc(found, o, byKindAndName); !there {
			return fmt.Errorf("the %v is missing: %w", o, ErrDamaged)
		}
	}
	return nil
}
