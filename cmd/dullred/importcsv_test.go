package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A spreadsheet may save Unicode as two bytes a letter, in which no column has its name.
func TestSheetInUTF16(t *testing.T) {
	for _, text := range []string{"\xff\xfed\x00a\x00t\x00e\x00", "\xfe\xff\x00d\x00a\x00t\x00e"} {
		_, err := parseTable([]byte(text))
		require.ErrorContains(t, err, "the file is in UTF-16")
		require.Equal(t, exitRefused, explain(err).Code)
	}
}
