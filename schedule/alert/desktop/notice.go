package desktop

import (
	"strings"
	"unicode"

	"github.com/gen2brain/beeep"
)

// appName is what the desktop knows the program as.
const appName = "dullred"

func init() { beeep.AppName = appName }

// Notice is one alert for the desktop. Both texts may hold what a person typed:
// the worker makes them safe.
type Notice struct {
	Title  string // one line; longer than 80 letters is cut, empty is "dullred"
	Body   string // longer than 300 letters is cut; may be empty
	Urgent bool   // stays until it is dismissed, where the desktop can do that
}

// The longest texts, in letters. A judgement: what notices of common desktops
// have room for.
const (
	mostTitle  = 80
	mostBody   = 300
	mostReason = 120
)

// clean is the notice with both texts made safe.
func (n Notice) clean() Notice {
	n.Title, n.Body = clean(n.Title, mostTitle), clean(n.Body, mostBody)
	if n.Title == "" {
		n.Title = appName
	}
	return n
}

// markup has plain words for the signs that a desktop may read as orders. Bodies
// are parsed for tags and entities by some desktops and shown as they are by
// others, so that escaping helps on neither; on Windows a notice may pass
// through a script in which $ and ` start a command.
var markup = strings.NewReplacer("&", " and ", "<", "(", ">", ")", "$", " ", "`", "'")

// clean is a text in one line of valid UTF-8, without controls, without letters
// that are not seen or turn the direction of writing, without markup, and of at
// most that many letters. It does not start with "-": the texts may become
// arguments of a program that would take one for an option.
func clean(text string, most int) string {
	text = strings.Map(seen, strings.ToValidUTF8(text, "\uFFFD"))
	text = strings.Join(strings.Fields(markup.Replace(text)), " ")
	return cut(strings.TrimLeft(text, "- "), most)
}

// seen is the letter itself, a space for controls and ends of line, and -1 for
// letters of format or of private use.
func seen(r rune) rune {
	switch {
	case unicode.IsControl(r), unicode.IsSpace(r):
		return ' '
	case unicode.In(r, unicode.Cf, unicode.Co):
		return -1
	}
	return r
}

// cut shortens a text and shows that it did.
func cut(text string, most int) string {
	letters := []rune(text)
	if len(letters) <= most {
		return text
	}
	return string(letters[:most-3]) + "..."
}
