package probe

import (
	"strings"
	"unicode"
)

// hot are words of a label that names the temperature of the work.
var hot = wordSet("t temp temperature tc thermocouple couple probe hot kiln furnace forge hearth muffle oven piece metal " +
	"deg degc degf c f celsius fahrenheit kelvin")

// other are words of a label that names another temperature, or an old one.
var other = wordSet("internal int cold cj cjc ambient amb board room air reference ref chip cpu " +
	"set setpoint sp target goal alarm limit min max peak avg average mean offset cal")

// foreign are last words of a label that may be a scale, or a type of thermocouple.
var foreign = wordSet("f degf fahrenheit k kelvin")

func wordSet(words string) map[string]bool {
	set := map[string]bool{}
	for w := range strings.FieldsSeq(words) {
		set[w] = true
	}
	return set
}

// namesTemperature reports whether what stands behind a label is the temperature
// of the work, in a scale that is known. No label is as good as any.
func namesTemperature(label string, scaled bool) bool {
	if label == "" {
		return true
	}
	words := wordsOf(label)
	found := false
	for _, w := range words {
		if other[w] {
			return false
		}
		found = found || hot[w]
	}
	typed := len(words) > 0 && foreign[words[len(words)-1]]
	return (found || typed) && (scaled || !typed)
}

// wordsOf are the words of a text in lower case, without figures and signs.
func wordsOf(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) })
}
