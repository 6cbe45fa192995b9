package heat

import (
	_ "embed" // the lists
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"dullred/alloys"
	"dullred/alloys/unit"
)

//go:embed colourwords.csv
var colourWordsCSV string

// Word is what one published list calls a heat. It means nothing without its scale:
// lists differ by 100 to 250 °C for the same word.
type Word struct {
	Scale  string // short name of the list, with its year where one is known
	Word   string // with the light it is for, where the list says so
	Source string
}

// colourWord is a word and from where to where it holds.
type colourWord struct {
	word       Word
	low, high  unit.Celsius // high is below low where none is printed, and +Inf without an end
	confidence alloys.Confidence
}

// wordScale is one published list, coldest word first.
type wordScale []colourWord

// Words are what every published list calls a temperature, at most one word each,
// in the order of the lists.
//
// The word is the last that begins at or below the temperature: most lists print one
// temperature for a word, which then holds until the next begins, and so does a
// printed range over the gap behind it. The last word of a list ends where its range
// does; without a range it holds as far as the word before it did (a judgement). A
// list that begins above the temperature or ended below it says nothing.
func Words(t unit.Celsius) []Word {
	var all []Word
	for _, s := range wordScales() {
		if w, ok := s.at(t); ok {
			all = append(all, w)
		}
	}
	return all
}

func (s wordScale) at(t unit.Celsius) (Word, bool) {
	var found Word
	ok := false
	for _, w := range s {
		if w.low <= t {
			found, ok = w.word, true
		}
	}
	return found, ok && t <= s.end()
}

// end is the highest temperature that the list has a word for.
func (s wordScale) end() unit.Celsius {
	last := s[len(s)-1]
	if last.high >= last.low {
		return last.high
	}
	return last.low + (last.low - s[len(s)-2].low)
}

var wordScales = sync.OnceValue(func() []wordScale {
	all, err := readWordScales(colourWordsCSV)
	if err != nil {
		panic("heat: embedded colour words: " + err.Error())
	}
	return all
})

const colourWordColumns = "scale,word,low,high,viewing,confidence,source"

// readWordScales reads the lists; the words of one stand together.
func readWordScales(text string) ([]wordScale, error) {
	in := csv.NewReader(strings.NewReader(text))
	in.Comment = '#'
	records, err := in.ReadAll()
	if err != nil {
		return nil, err
	}
	if len(records) == 0 || strings.Join(records[0], ",") != colourWordColumns {
		return nil, fmt.Errorf("expected the columns %s", colourWordColumns)
	}
	var all []wordScale
	for _, r := range records[1:] {
		w, err := readColourWord(r)
		if err != nil {
			return nil, fmt.Errorf("%s, %s: %w", r[0], r[1], err)
		}
		if n := len(all); n > 0 && all[n-1][0].word.Scale == w.word.Scale {
			all[n-1] = append(all[n-1], w)
		} else {
			all = append(all, wordScale{w})
		}
	}
	for _, s := range all {
		if len(s) < 2 {
			return nil, fmt.Errorf("%s: one word is no scale", s[0].word.Scale)
		}
	}
	return all, nil
}

func readColourWord(r []string) (colourWord, error) {
	w := colourWord{word: Word{Scale: r[0], Word: r[1], Source: r[6]}, confidence: alloys.Confidence(r[5])}
	if viewing := r[4]; viewing != "" && !strings.Contains(w.word.Word, viewing) {
		w.word.Word += " (" + viewing + ")"
	}
	low, err := strconv.ParseFloat(r[2], 64)
	if err != nil {
		return w, err
	}
	high := math.Inf(-1)
	switch r[3] {
	case "":
	case "above":
		high = math.Inf(1)
	default:
		if high, err = strconv.ParseFloat(r[3], 64); err != nil {
			return w, err
		}
	}
	w.low, w.high = unit.Celsius(low), unit.Celsius(high)
	return w, nil
}
