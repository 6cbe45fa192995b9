package probe

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"dullred/alloys/unit"
)

// The temperatures that are taken, in °C. Colder than a workshop and hotter than
// the tables of platinum thermocouples end (1768 °C, ITS-90) is a fault.
const (
	MinTemp unit.Celsius = -50
	MaxTemp unit.Celsius = 1800
)

// endOfTypeK is where the ITS-90 table of type K ends, 1372 °C: a device that
// counts no further shows it when the thermocouple is broken. It stands for the
// nearest whole °F as well, 2502.
const (
	endOfTypeK unit.Celsius = 1372
	nearTheEnd unit.Celsius = 0.25
)

// What a line can be besides a reading.
var (
	ErrNoise = errors.New("not a temperature")
	ErrFault = errors.New("the thermocouple is broken or not connected")
)

// maxLine is how many bytes a line may have.
const maxLine = 256

// grammar takes a line apart: label, whole number, decimal sign, decimals, unit
// and what is behind it. It is made with the first line: most commands read none.
var grammar = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:(\pL[\pL\pN _.#/()°-]{0,39})[=:]\s*)?` +
		`([+\-−]?[0-9]{1,6})(?:([.,])([0-9]{1,6}))?` +
		`\s*((?:(?:°|º|deg\.?)\s*)?(?:c|f|k)|℃|℉|°|º)?\s*([,;].*)?$`)
})

// broken are the words by which devices say that there is nothing to measure.
var broken = map[string]bool{"open": true, "nan": true, "inf": true, "fault": true, "short": true, "shorted": true,
	"err": true, "error": true, "ol": true, "overrange": true, "underrange": true, "disconnected": true}

// ParseLine reads one line of a source, without its line end, by the grammar of
// the package. The error is ErrNoise or ErrFault; a temperature without an error
// lies between MinTemp and MaxTemp.
func ParseLine(line string) (unit.Celsius, error) {
	_, temp, err := parseLine(line)
	return temp, err
}

func parseLine(line string) (label string, temp unit.Celsius, err error) {
	if len(line) > maxLine {
		return "", 0, ErrNoise
	}
	text := strings.ToLower(strings.TrimSpace(degrees(line)))
	if strings.ContainsFunc(text, unprintable) {
		return "", 0, ErrNoise
	}
	part := grammar().FindStringSubmatch(text)
	if part == nil {
		return "", 0, unread(text)
	}
	label, scale := strings.TrimSpace(part[1]), scaleOf(part[5])
	if twoWays(part[3], part[4], part[5], part[6]) || !namesTemperature(label, scale != "") {
		return "", 0, ErrNoise
	}
	temp = celsius(strings.ReplaceAll(part[2], "−", "-")+"."+part[4], scale)
	return label, temp, plausible(temp)
}

// unread tells a device that says it measures nothing from noise.
func unread(text string) error {
	value := text[strings.LastIndexAny(text, "=:")+1:]
	if dashes := strings.TrimSpace(value); len(dashes) > 1 && strings.Trim(dashes, "-.") == "" {
		return ErrFault
	}
	for _, w := range wordsOf(text) {
		if broken[w] {
			return ErrFault
		}
	}
	return ErrNoise
}

// twoWays reports whether a comma in a line may be a decimal sign, a thousand or
// the end of a column.
func twoWays(sign, decimals, unit, behind string) bool {
	if sign == "," && len(decimals) == 3 {
		return true
	}
	if unit != "" || !strings.HasPrefix(behind, ",") {
		return false
	}
	next, _ := utf8.DecodeRuneInString(behind[1:])
	return sign == "," || sign == "" && unicode.IsDigit(next)
}

// scaleOf is the letter of a unit as written, "" for none.
func scaleOf(unit string) string {
	switch {
	case unit == "":
		return ""
	case unit == "℉", strings.HasSuffix(unit, "f"):
		return "F"
	case strings.HasSuffix(unit, "k"):
		return "K"
	}
	return "C"
}

// celsius gives a figure of a scale in °C, to 0.0001.
func celsius(figure, scale string) unit.Celsius {
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil {
		return unit.Celsius(math.NaN()) // the grammar lets none past
	}
	c := unit.Celsius(v)
	switch scale {
	case "F":
		c = unit.FromFahrenheit(v)
	case "K":
		c = unit.Kelvin(v).Celsius()
	}
	return unit.Celsius(math.Round(float64(c)*1e4)/1e4) + 0 // never a minus zero
}

// plausible is ErrFault for what no heat of a bench reads.
func plausible(c unit.Celsius) error {
	within := c >= MinTemp && c <= MaxTemp // false for no number
	if !within || math.Abs(float64(c-endOfTypeK)) <= float64(nearTheEnd) {
		return ErrFault
	}
	return nil
}

// degrees is a line with the degree sign of the old code pages, bytes B0 and F8,
// as a sign, and all else that is not UTF-8 as U+FFFD.
func degrees(line string) string {
	if utf8.ValidString(line) {
		return line
	}
	var b strings.Builder
	for i, r := range line {
		if r == utf8.RuneError && (line[i] == 0xB0 || line[i] == 0xF8) {
			r = '°'
		}
		b.WriteRune(r)
	}
	return b.String()
}

// unprintable is what no reading has in it: control characters, a tab apart,
// format characters and bytes that are no text.
func unprintable(r rune) bool {
	return r != '\t' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == utf8.RuneError
}

// maxSample is how many letters of a line are shown.
const maxSample = 40

// sample is the beginning of a line as it may be shown: one line of text without
// control and format characters, at most 40 letters.
func sample(line string) string {
	clean := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r):
			return -1
		}
		return r
	}, degrees(line))
	if letters := []rune(clean); len(letters) > maxSample {
		clean = string(letters[:maxSample-1]) + "…"
	}
	return strings.TrimSpace(clean)
}
