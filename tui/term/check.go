package term

import "os"

// Check gives the error of Open when standard input or output is not a terminal,
// without taking it: a program can then refuse before it opens anything else.
func Check() error { return atTerminal(os.Stdin, os.Stdout) }
