package main

import (
	"encoding/json"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"dullred/schedule"
	"dullred/schedule/record"
)

// spoken are the fields that hold words of the smith, by kind. Of a kind that is not
// here, such as one to come, every text counts that is not an id.
var spoken = map[schedule.Kind][]string{
	schedule.KindStarted:  {"mark", "stock", "zones", "limit"},
	schedule.KindPass:     {"tool"},
	schedule.KindBegun:    {"torch"},
	schedule.KindTorchLit: {"torch"},
	schedule.KindJoint:    {"joint", "solder"},
	schedule.KindNote:     {"text"},
	schedule.KindPhoto:    {"ref"},
	schedule.KindRaised:   {"what"},
	schedule.KindLoosened: {"stock"},
	schedule.KindPlan:     {"name", "solder"}, // of its joints
	schedule.KindSign:     {"sign"},
	schedule.KindVoid:     {}, schedule.KindAcknowledged: {}, schedule.KindWeighed: {}, schedule.KindClockStep: {},
	schedule.KindLight: {}, schedule.KindNoise: {}, schedule.KindBath: {}, schedule.KindDrilled: {}, schedule.KindTrace: {}, schedule.KindShown: {},
}

// foldText maps all spellings of a text to one that differ in case or accents only: as
// labels are folded, after what stands on, under or in a letter was taken off.
func foldText(s string) string {
	if !isASCII(s) {
		s = norm.NFD.String(s)
		s = strings.Map(func(r rune) rune {
			if unicode.Is(unicode.Mn, r) {
				return -1
			}
			return r
		}, s)
		return record.Fold(s)
	}
	return strings.ToUpper(s) // as Fold does with ASCII
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// said is a text as the record is asked for it; nil for none.
func (b *bench) said(text string) (*record.Said, error) {
	folded := foldText(text)
	switch {
	case text == "":
		return nil, nil
	case folded == "" || strings.TrimSpace(text) == "":
		return nil, refuse("give some letters of it", "%.60q is no text to look for", text)
	}
	labels, err := b.rec.Labels(record.PieceClass)
	if err != nil {
		return nil, err
	}
	w := wording{folded, partOf(folded)}
	s := &record.Said{Part: w.part, In: w.in}
	for _, l := range labels {
		if strings.Contains(foldText(l.Text), folded) {
			s.Pieces = append(s.Pieces, l.ID)
		}
	}
	return s, nil
}

// partOf is the longest part of a folded text that is written in a body as it is,
// whatever JSON does to some characters.
func partOf(folded string) (longest string) {
	plain := func(r rune) bool {
		return r == ' ' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z'
	}
	for _, part := range strings.FieldsFunc(folded, func(r rune) bool { return !plain(r) }) {
		if len(part) > len(longest) {
			longest = part
		}
	}
	return longest
}

// wording is a folded text that is looked for, and a part of it.
type wording struct{ folded, part string }

// in reports whether the text stands in what a person typed into an entry.
func (w wording) in(kind, body string) bool {
	if !strings.Contains(body, `\u`) && !strings.Contains(foldText(body), w.part) {
		return false // it need not be taken apart
	}
	var value any
	if json.Unmarshal([]byte(body), &value) != nil {
		return false
	}
	keys, known := spoken[schedule.Kind(kind)]
	return w.under(value, keys, !known)
}

// under looks at every text under one of some keys, or at all of them.
func (w wording) under(value any, keys []string, all bool) bool {
	switch v := value.(type) {
	case string:
		return all && !isUUID(v) && strings.Contains(foldText(v), w.folded)
	case []any:
		return slices.ContainsFunc(v, func(e any) bool { return w.under(e, keys, all) })
	case map[string]any:
		for key, e := range v {
			if w.under(e, keys, all || slices.Contains(keys, key)) {
				return true
			}
		}
	}
	return false
}

func isUUID(s string) bool { return len(s) == 36 && strings.Count(s, "-") == 4 }
