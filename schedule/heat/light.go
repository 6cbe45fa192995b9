package heat

import (
	"fmt"
	"slices"
	"strings"
)

// Light is how bright the room is where a heat is judged by eye. The zero Light
// is not known.
type Light string

// The lights, darkest first.
const (
	LightUnknown Light = ""
	LightDark    Light = "dark"       // lights out, the hearth alone
	LightDim     Light = "dim"        // a shaded corner
	LightLamp    Light = "bench lamp" // a lit workshop
	LightDay     Light = "daylight"
)

// Lights are the lights that can be told apart, darkest first.
func Lights() []Light { return []Light{LightDark, LightDim, LightLamp, LightDay} }

// ParseLight reads a light by its name or the beginning of it; lamp is the bench
// lamp.
func ParseLight(text string) (Light, error) {
	if strings.EqualFold(text, "lamp") {
		return LightLamp, nil
	}
	var names []string
	for _, l := range Lights() {
		if strings.EqualFold(text, string(l)) || len(text) > 2 && strings.HasPrefix(string(l), strings.ToLower(text)) {
			return l, nil
		}
		names = append(names, string(l))
	}
	return "", fmt.Errorf("%.60q is not a light: expected one of %s", text, strings.Join(names, ", "))
}

// Next is the light after this one, round and round.
func (l Light) Next() Light {
	all := Lights()
	return all[(slices.Index(all, l)+1)%len(all)]
}
