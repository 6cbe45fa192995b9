package exchange

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"dullred/schedule"
)

// classes are the classes of labels that a record knows.
var classes = []string{"piece", "hand", "bench"}

// longestText is how many bytes of text fit a line however they are quoted: a byte
// takes six at most, as in \u0000.
const longestText = LongestLine / 8

// ErrLabel is returned for a label that a record would not take or a text not carry.
var ErrLabel = errors.New("damaged label")

// CheckLabel refuses a label that a record would not take, or whose text could not be
// carried, with ErrLabel.
func CheckLabel(l Label) error {
	switch {
	case !slices.Contains(classes, l.Class):
		return fmt.Errorf("%w %.60q: no class is called %.60q", ErrLabel, l.Text, l.Class)
	case l.ID == "" || l.Text == "":
		return fmt.Errorf("%w %.60q of the id %.60q: neither may be empty", ErrLabel, l.Text, l.ID)
	case len(l.ID)+len(l.Text) > longestText:
		return fmt.Errorf("%w of the id %.60q: it is too long to be carried", ErrLabel, l.ID)
	case !utf8.ValidString(l.ID) || !utf8.ValidString(l.Text):
		return fmt.Errorf("%w of the id %.60q: it is not UTF-8", ErrLabel, l.ID)
	}
	return nil
}

// CheckRow refuses a row that is no entry, by schedule.Decode, or that could not be
// carried; both are schedule.ErrRow. A row of a kind or version to come passes.
func CheckRow(r schedule.Row) error {
	if err := carried(r); err != nil {
		return fmt.Errorf("%w %.60q: %w", schedule.ErrRow, r.ID, err)
	}
	_, err := schedule.Decode(r)
	return err
}

// carried refuses what would not come back from a text or a record as it is.
func carried(r schedule.Row) error {
	texts := []string{r.Zones, r.Kind, r.Process, r.Shape, r.Body}
	if slices.ContainsFunc(texts, func(s string) bool { return !utf8.ValidString(s) }) {
		return errors.New("it holds text that is not UTF-8")
	}
	if len(strings.Join(texts, "")) > longestText {
		return errors.New("it is too long to be carried")
	}
	for _, id := range []string{r.ID, r.Bench, r.Hand, r.Piece} {
		if strings.ToLower(id) != id {
			return fmt.Errorf("the id %.60q is not in lower case", id)
		}
	}
	for _, f := range []float64{r.Thick, r.Width, r.Diameter, r.Ring, r.Length, r.Temp} {
		if math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Errorf("%v is not a figure", f)
		}
	}
	if r.Body != "" && !json.Valid([]byte(r.Body)) {
		return errors.New("its body is not JSON")
	}
	return nil
}
