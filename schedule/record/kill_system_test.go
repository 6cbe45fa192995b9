//go:build system

package record

import "testing"

func TestKillsEverywhere(t *testing.T) { killsEverywhere(t, 500) }
