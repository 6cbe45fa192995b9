// Package exchange carries entries from one record to another: as a text that can be
// read and kept, and as a union of two records.
//
// # The text
//
// An export is JSON lines in UTF-8, each ended by a line feed. Version 1 is
//
//	{"check":"…","format":"dullred records","version":1}
//	{"check":"…","label":{"id":"…","class":"piece","text":"spoon"}}
//	{"check":"…","entry":{"id":"…","at":1709663400000000, … ,"body":""}}
//	{"check":"…","count":{"labels":1,"entries":1}}
//
// first what it is, then the labels in the order of their ids, then the entries in the
// order of theirs, then how many of both there were. An entry has every column of
// schedule.Row by its name; lengths are in mm, temperatures in °C, times in
// microseconds since 1970 UTC, and 0 means absent in a figure.
//
// The check of a line is the first 16 hexadecimal digits of the SHA-256 (FIPS 180-4) of
// the check of the line before, which is empty for the first, followed by the line
// without its check: `{"check":"…",` becomes `{`. So a line that was changed, moved or
// taken out is refused by its number. This guards against accidents and a careless
// editor; whoever means harm can reckon the checks anew.
//
// The text is a function of what it holds, to the byte, and Read takes nothing that
// Write would not have written. An export that is read and written again is the same.
//
// # The union
//
// Entries are never changed, so two records are joined by adding what one of them
// lacks. Nothing is decided by a clock: the entries that come of it are the same in
// whatever order and however often records are joined. An id that stands for two
// different entries is refused. The one exception are alerts, whose ids follow from
// their causes, so that two benches may raise the same: the one that is here stays,
// and no state depends on it.
//
// Labels are less than entries: a name that another id bears gets a number, an id that
// has a name here keeps it, and a hand that was forgotten here stays so.
package exchange

import (
	"errors"
	"fmt"

	"dullred/schedule"
)

// Version is the version of the text that Write writes, and the newest that Read reads.
const Version = 1

// format is what the first line says that the text is.
const format = "dullred records"

// LongestLine is the largest number of bytes that a line may have, without its line feed.
const LongestLine = 16 << 20

// ErrNewer is returned by Read for a text of a later version.
var ErrNewer = errors.New("the export was written by a newer version of dullred")

// Label is the name of a piece, a hand or a bench.
type Label struct {
	ID    string `json:"id"`
	Class string `json:"class"` // piece, hand or bench
	Text  string `json:"text"`
}

// Count is how many labels and entries an export holds.
type Count struct {
	Labels  int `json:"labels"`
	Entries int `json:"entries"`
}

// Export is what a text holds: labels and rows, each in the order of the ids.
type Export struct {
	Labels []Label
	Rows   []schedule.Row
}

// LineOf is the number of the line, from 1, on which the row with an index stands.
func (e *Export) LineOf(row int) int { return 1 + len(e.Labels) + row + 1 }

// LineError is what is wrong with one line of a text.
type LineError struct {
	Line int // from 1
	Err  error
}

// Error begins with the number of the line.
func (e *LineError) Error() string { return fmt.Sprintf("line %d: %v", e.Line, e.Err) }

// Unwrap is what is wrong.
func (e *LineError) Unwrap() error { return e.Err }
