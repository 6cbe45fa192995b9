//go:build !race

package record

const slow = false
