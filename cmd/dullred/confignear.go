package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

func (t *configText) unknown(path []string, offset int) error {
	do := mendConfig
	if near := nearestSetting(path); near != "" {
		do = "did you mean " + near + "? dullred config --example shows every key"
	}
	return refuse(do, "%s: %.60q is not a key of this file", t.at(offset), strings.Join(path, "."))
}

// keyOf is the key of a line or of a head in its parts, and where it begins.
func keyOf(n *unstable.Node) (path []string, offset int) {
	for parts := n.Key(); parts.Next(); {
		if path == nil {
			offset = int(parts.Node().Raw.Offset)
		}
		path = append(path, string(parts.Node().Data))
	}
	return path, offset
}

func isSection(path []string) bool {
	return len(path) == 1 && slices.ContainsFunc(settings, func(s setting) bool { return s.section != "" && s.section == path[0] })
}

func settingOf(path []string) (setting, bool) {
	section, key := "", path[len(path)-1]
	if len(path) == 2 {
		section = path[0]
	}
	i := slices.IndexFunc(settings, func(s setting) bool { return len(path) <= 2 && s.section == section && s.key == key })
	if i < 0 {
		return setting{}, false
	}
	return settings[i], true
}

// nearestSetting is the key or section most like one that is none, and where it
// belongs; nothing if more than a third of the letters differ.
func nearestSetting(path []string) string {
	key := strings.ToLower(path[len(path)-1])
	if len(key) > 40 {
		return ""
	}
	most := max(1, utf8.RuneCountInString(key)/3)
	within := strings.Join(path[:len(path)-1], ".")
	best, words := 2*most+2, ""
	offer := func(name, say string, elsewhere bool) {
		far := letters(key, name)
		if far > most {
			return
		}
		if far *= 2; elsewhere {
			far++ // of two that are as like, the one in its place
		}
		if far < best {
			best, words = far, say
		}
	}
	for _, s := range settings {
		elsewhere := s.section != within
		offer(s.key, s.where(elsewhere), elsewhere)
		if s.section != "" {
			offer(s.section, "["+s.section+"]", within != "")
		}
	}
	return words
}

// where names a setting, and its place if it was looked for in another.
func (s setting) where(elsewhere bool) string {
	switch {
	case !elsewhere:
		return fmt.Sprintf("%q", s.key)
	case s.section == "":
		return fmt.Sprintf("%q above the first [section]", s.key)
	}
	return fmt.Sprintf("%q under [%s]", s.key, s.section)
}

// letters is how many letters must be put in, taken out, changed or swapped with
// the next to make one word of the other (optimal string alignment).
func letters(a, b string) int {
	from, to := []rune(a), []rune(b)
	far := make([][]int, len(from)+1)
	for i := range far {
		far[i] = make([]int, len(to)+1)
		for j := range far[i] {
			switch {
			case i == 0 || j == 0:
				far[i][j] = i + j
			case from[i-1] == to[j-1]:
				far[i][j] = far[i-1][j-1]
			default:
				far[i][j] = 1 + min(far[i-1][j-1], far[i-1][j], far[i][j-1])
			}
			if i > 1 && j > 1 && from[i-1] == to[j-2] && from[i-2] == to[j-1] {
				far[i][j] = min(far[i][j], 1+far[i-2][j-2])
			}
		}
	}
	return far[len(from)][len(to)]
}
