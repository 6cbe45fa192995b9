package main

import (
	_ "embed"
	"encoding/csv"
	"strings"
	"sync"
)

//go:embed tradewords.csv
var tradeWordTable string

// tradeWord is a word of the trade, explained.
type tradeWord struct {
	word, also, meaning string // also: other names, parted by semicolons
}

// tradeWords are all of them, in the order of the table. The table is embedded and held
// by a test, so that it can always be read.
var tradeWords = sync.OnceValue(func() (all []tradeWord) {
	r := csv.NewReader(strings.NewReader(tradeWordTable))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("tradewords.csv: " + err.Error())
	}
	for _, row := range rows {
		all = append(all, tradeWord{row[0], row[1], row[2]})
	}
	return all
})

// names are the word and its other names.
func (w tradeWord) names() []string {
	if w.also == "" {
		return []string{w.word}
	}
	return append([]string{w.word}, strings.Split(w.also, ";")...)
}

// text is the word and what it means, in at most 80 columns.
func (w tradeWord) text() string {
	head := w.word
	if w.also != "" {
		head += " (" + strings.ReplaceAll(w.also, ";", ", ") + ")"
	}
	return wrap("", "  ", head+": "+w.meaning)
}

// tradeWordNamed finds a word by any of its names, however it is spaced or capitalised.
func tradeWordNamed(name string) (tradeWord, bool) {
	for _, w := range tradeWords() {
		for _, n := range w.names() {
			if plainWord(n) == plainWord(name) {
				return w, true
			}
		}
	}
	return tradeWord{}, false
}

func plainWord(s string) string {
	return strings.ToLower(strings.NewReplacer(" ", "", "-", "").Replace(s))
}

func allTradeWords() string {
	var b strings.Builder
	for _, w := range tradeWords() {
		b.WriteString(w.text())
	}
	return b.String()
}
