package stock

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"dullred/alloys/unit"
)

// MaxText is the longest text, in bytes, that is read as a shape.
const MaxText = 8000

var (
	colon = pattern(`\s*:\s*`)
	zero  = pattern(`(?i)^0+([.,]0+)?\s*(mm|cm|in)?$`)
)

// pattern is compiled when it is first asked for: most runs of a program read no shape.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

var errShape = errors.New("expected a shape as PLACE:SECTION PLACE:SECTION, such as 0:6x3 95:18x3 190:6x3")

// ParseShape reads a shape as places and sections along the piece, such as
//
//	0:6x3 95:18x3 190:6x3
//	0:4 round 60:4 round 60:6x2 D 120:6x2 D tang:2x80@end
//
// Places are in mm from the start, lengths as in unit.ParseLength; sections are
// as in ParseSection, tangs as in ParseTang. What String prints is read back to
// the very same shape.
func ParseShape(text string) (Shape, error) {
	if len(text) > MaxText {
		return Shape{}, fmt.Errorf("a shape of %d letters is longer than the %d that are read", len(text), MaxText)
	}
	s, err := readShape(text)
	if err != nil {
		return Shape{}, fmt.Errorf("shape %.60q: %w", text, err)
	}
	return s, nil
}

func readShape(text string) (s Shape, err error) {
	parts, err := splitShape(text)
	if err != nil {
		return s, err
	}
	for _, p := range parts {
		if strings.EqualFold(p.place, "tang") {
			if s, err = s.withPart(p); err != nil {
				return s, err
			}
			continue
		}
		st, err := p.station()
		if err != nil {
			return s, err
		}
		s.Stations = append(s.Stations, st)
	}
	return s, s.Check()
}

// withPart adds a tang without looking whether it fits, since stations may follow.
func (s Shape) withPart(p part) (Shape, error) {
	t, err := ParseTang(p.section)
	s.Tangs = append(s.Tangs, t)
	return s, err
}

// part is PLACE:SECTION as it was typed.
type part struct{ place, section string }

// splitShape cuts the text before each word with a colon; a comma or semicolon
// at the end of a part only divides.
func splitShape(text string) ([]part, error) {
	var all []part
	for _, word := range strings.Fields(colon().ReplaceAllString(text, ":")) {
		place, section, found := strings.Cut(word, ":")
		switch {
		case found:
			all = append(all, part{place, section})
		case len(all) == 0:
			return nil, errShape
		default:
			all[len(all)-1].section += " " + word
		}
	}
	for i := range all {
		all[i].section = strings.Trim(all[i].section, " ,;")
	}
	if len(all) == 0 {
		return nil, errShape
	}
	return all, nil
}

func (p part) station() (st Station, err error) {
	if p.section == "" {
		return st, fmt.Errorf("%.40q has no section, expected one such as %.20s:6x3", p.place+":", p.place)
	}
	if strings.Contains(p.section, ":") {
		return st, fmt.Errorf("%.40q: %w", p.place+":"+p.section, errShape)
	}
	if !zero().MatchString(p.place) {
		if st.At, err = unit.ParseLength(p.place); err != nil {
			return st, err
		}
	}
	st.Section, err = ParseSection(p.section)
	return st, err
}

// String prints the shape as ParseShape reads it.
func (s Shape) String() string {
	var words []string
	for _, st := range s.Stations {
		words = append(words, plain(st.At)+":"+st.Section.String())
	}
	for _, t := range s.Tangs {
		words = append(words, "tang:"+t.String())
	}
	return strings.Join(words, " ")
}
