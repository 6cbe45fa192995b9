package schedule

import (
	"errors"
	"strings"
	"unicode"
)

// KindPhoto is a photo that was taken.
const KindPhoto Kind = "photo"

// Photo refers to one photo or several: by the numbers that the camera gave them, or by
// a file. It is never copied into the record.
type Photo struct {
	Ref string `json:"ref"`
}

// Kind is KindPhoto.
func (Photo) Kind() Kind { return KindPhoto }

func (p Photo) check() error {
	switch {
	case strings.TrimSpace(p.Ref) == "":
		return errors.New("a photo without a number or a file")
	case strings.ContainsFunc(p.Ref, func(r rune) bool { return !unicode.IsPrint(r) }):
		return errors.New("the number or file of a photo holds a character that does not print")
	}
	return checkText(p.Ref)
}
