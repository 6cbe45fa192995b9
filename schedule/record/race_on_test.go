//go:build race

package record

// slow is what the race detector makes of every step, about tenfold; the tests
// that repeat one thing many times then repeat it less.
const slow = true
