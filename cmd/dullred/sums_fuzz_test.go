package main

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/adrg/xdg"
	"github.com/stretchr/testify/require"
)

// sums are the commands that reckon without a record, with flags of the same five texts.
var sums = [][]string{
	{"worked", "--alloy=sterling", "--from=8x8", "--to=6.4x7.2", "--calliper=0.1mm", "--limit=50%"},
	{"glow", "--alloy=sterling", "--temp=650", "--surface=oxidised", "--light=lamp", "--emissivity=0.5"},
	{"soften", "--alloy=c26000", "--worked=33%", "--temp=580", "--soak=8s", "--emissivity=0.5"},
	{"torch", "--alloy=sterling", "--size=2x30", "--to=650", "--h=120", "--emissivity=0.5"},
	{"torch", "--alloy=copper", "--size=3 round", "--to=600", "--flame=1225", "--surface=oxidised"},
	{"stock", "--alloy=sterling", "--shape=0:6x3 95:18x3 190:6x3", "--bar=10x10", "--loss=2.5%", "--crop=5%"},
	{"stock", "--alloy=sterling", "--ring=62x3x8", "--gap=2", "--have=22x14x10", "--factor=0.62"},
	{"stock", "--alloy=copper", "--bowl=hemispherical 100x50", "--thick=0.9", "--in=ozt", "--density=8.9"},
	{"mix", "--to=950", "--", "60g:925", "20g:999", "1ozt:copper"},
}

// noFigure is a figure that is none.
var noFigure = regexp.MustCompile(`\bNaN\b|[+-]?\bInf\b`)

// FuzzSums types the flags of the sums, of which an empty text leaves the usual one. A sum
// that is made is of figures; one that is not is refused in a sentence, and nothing else is
// printed.
func FuzzSums(f *testing.F) {
	for kind := range sums {
		f.Add(uint8(kind), false, "", "", "", "", "")
		f.Add(uint8(kind), true, "", "", "", "", "")
	}
	f.Add(uint8(0), true, "", "0.001x100000", "100000x0.001", "1e5", "100%")
	f.Add(uint8(1), true, "", "9000", "", "", "1e-308")
	f.Add(uint8(2), true, "", "99.99999%", "1e-9", "366d", "")
	f.Add(uint8(3), true, "", "100000x0.001", "1300", "1e308", "1e-3")
	f.Add(uint8(4), true, "", "", "-273", "NaN", "-273.149")
	f.Add(uint8(5), true, "", "", "0.001x0.001", "90%", "\x1b[2J")
	f.Add(uint8(8), true, "0x1p-3g:ag", "", "NaNg:925", "", "")
	home := f.TempDir()
	f.Setenv("XDG_CONFIG_HOME", home)
	xdg.Reload()
	f.Cleanup(xdg.Reload)
	f.Fuzz(func(t *testing.T, kind uint8, asJSON bool, one, two, three, four, five string) {
		args := filled(sums[int(kind)%len(sums)], one, two, three, four, five)
		first := []string{args[0], "--record=" + filepath.Join(home, "record.db")}
		if asJSON {
			first = append(first, "--json")
		}
		var out, errOut bytes.Buffer
		code := run(append(first, args[1:]...), &out, &errOut, func(string) string { return "" })
		require.Contains(t, []int{exitOK, exitRefused, exitNotFound}, code, "%q: %s", args, &errOut)
		if code != exitOK {
			require.NotEmpty(t, one+two+three+four+five, "what is usual is a sum: %s", &errOut)
			require.Empty(t, out.String())
			require.Equal(t, 1, strings.Count(errOut.String(), "\n"), "%q", &errOut)
			require.False(t, strings.ContainsFunc(strings.TrimSuffix(errOut.String(), "\n"), unicode.IsControl), "%q", &errOut)
			return
		}
		require.Empty(t, errOut.String())
		require.True(t, utf8.Valid(out.Bytes()), "%q", &out)
		require.NotRegexp(t, noFigure, out.String(), "%q", args)
		require.True(t, !asJSON || json.Valid(out.Bytes()), "%q", &out)
	})
}

// filled is a command with some of its texts in place of the usual ones.
func filled(usual []string, texts ...string) []string {
	args := slices.Clone(usual)
	for i, arg := range args[1:] {
		if arg == "--" {
			continue
		}
		if texts[0] != "" {
			args[1+i] = flagOf(arg) + texts[0]
		}
		texts = texts[1:]
	}
	return args
}

// flagOf is a flag up to its value, "" for a word.
func flagOf(arg string) string {
	flag, _, is := strings.Cut(arg, "=")
	if !is {
		return ""
	}
	return flag + "="
}
