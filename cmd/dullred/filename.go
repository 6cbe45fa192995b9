package main

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// mostFileName is how many bytes of a name go into the name of a file, without its
// ending.
const mostFileName = 100

// fileNames gives out names of files, each once, whatever the case of its letters.
type fileNames struct{ taken map[string]bool }

// next is the name of a file for a piece; the second with the same is numbered, and so
// on.
func (n *fileNames) next(name, end string) string {
	if n.taken == nil {
		n.taken = map[string]bool{}
	}
	stem := fileStem(name)
	try := stem
	for i := 2; n.taken[sameFile(try)]; i++ {
		number := fmt.Sprintf("-%d", i)
		try = cutName(stem, mostFileName-len(number)) + number
	}
	n.taken[sameFile(try)] = true
	return try + "." + end
}

// sameFile is what two names have in common that some file system takes for one.
func sameFile(name string) string { return strings.ToLower(norm.NFC.String(name)) }

// reservedFile are names that Windows keeps for devices, whatever their ending.
var reservedFile = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])(\.|$)`)
})

// fileStem makes a file name of the name of a piece: a hyphen for blanks, for what
// separates folders and for what Windows forbids; nothing for what does not print or
// turns the direction of a text; no dot or hyphen at an end.
func fileStem(name string) string {
	name = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) || strings.ContainsRune(`/\:*?"<>|`, r):
			return '-'
		case !unicode.IsPrint(r) || r == utf8.RuneError:
			return -1
		}
		return r
	}, norm.NFC.String(strings.ToValidUTF8(name, "")))
	name = trimName(cutName(trimName(name), mostFileName))
	if name == "" {
		return "piece"
	}
	if reservedFile().MatchString(name) {
		return "piece-" + name
	}
	return name
}

func trimName(name string) string { return strings.Trim(name, ".- ") }

// cutName is so many bytes of a name at the most, cut before a letter and not between
// it and its accents.
func cutName(name string, most int) string {
	if len(name) <= most {
		return name
	}
	for most > 0 {
		r, _ := utf8.DecodeRuneInString(name[most:])
		if utf8.RuneStart(name[most]) && !unicode.Is(unicode.M, r) {
			break
		}
		most--
	}
	return name[:most]
}
