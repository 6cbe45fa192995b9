package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"time"
	"unicode/utf16"
)

// line is one sentence with what it is about.
type line struct {
	at    time.Time
	word  string // that leads the sentence
	piece string // empty for the bench
	zones []string
	what  string
	late  time.Duration
	text  string
	say   func(string) string // nil for as it is
}

// sentence finishes a line: clean, and with no letter that a plain output may lack.
func (l line) sentence(format string, args ...any) line {
	l.text = l.plain(l.word + ": " + strings.TrimSuffix(fmt.Sprintf(format, args...), ".") + ".")
	return l
}

// plain is a text of the line as it is printed. The style comes before the letters
// are made plain, or no unit would be known by its power.
func (l line) plain(text string) string {
	if l.say != nil {
		text = l.say(text)
	}
	return plainText(text)
}

// object is a line as one JSON object; what is beyond ASCII stands in escapes.
func (l line) object() string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	_ = e.Encode(struct { // strings and a number: they cannot fail
		Time     string   `json:"time"`
		Priority string   `json:"priority"`
		Piece    string   `json:"piece"`
		Zones    []string `json:"zones"`
		What     string   `json:"what"`
		Late     float64  `json:"late_seconds"`
		Text     string   `json:"text"`
	}{l.at.Local().Format("2006-01-02T15:04:05.000Z07:00"), l.word, clean(l.piece), list(l.zones), l.what, l.late.Truncate(time.Second).Seconds(), l.text})
	var out strings.Builder
	for _, r := range strings.TrimSuffix(b.String(), "\n") {
		if r < 0x80 {
			out.WriteRune(r)
			continue
		}
		for _, u := range utf16.AppendRune(nil, r) {
			fmt.Fprintf(&out, `\u%04x`, u)
		}
	}
	return out.String()
}

// nearest are ASCII spellings of what is likely in names and in the tables.
var nearest = strings.NewReplacer("…", "...", "–", "-", "—", "-", "−", "-", "×", "x", "’", "'", "‘", "'", "“", `"`, "”", `"`,
	"½", "1/2", "±", "+-", "≤", "<=", "≥", ">=", "ß", "ss", "æ", "ae", "ø", "o", "å", "a", "œ", "oe", "Æ", "AE", "Ø", "O", "Å", "A",
	"ä", "ae", "ö", "oe", "ü", "ue", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue", "à", "a", "á", "a", "â", "a", "ã", "a", "ç", "c", "è", "e", "é", "e",
	"ê", "e", "ë", "e", "ì", "i", "í", "i", "î", "i", "ï", "i", "ñ", "n", "ò", "o", "ó", "o", "ô", "o", "õ", "o", "ù", "u", "ú", "u",
	"û", "u", "ý", "y", "ÿ", "y", "À", "A", "Á", "A", "Â", "A", "Ç", "C", "È", "E", "É", "E", "Ê", "E", "Î", "I", "Ñ", "N", "Ó", "O", "Ô", "O")

// plainText is text in ASCII and the degree sign.
func plainText(text string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x80 || r == '°' {
			return r
		}
		return '?'
	}, nearest.Replace(clean(text)))
}
