//go:build race

package share_test

import (
	command "flag"

	_ "pgregory.net/rapid" // its flags are set here
)

// The race detector makes every step take about ten times as long, and finds in a few
// evenings what it would find in many.
func init() {
	if err := command.Set("rapid.checks", "20"); err != nil {
		panic(err)
	}
}
