package term

import "fmt"

// A Refusal is the error of Open and Check: why the terminal is not taken, and what to
// do, such as what works without the screen.
type Refusal struct {
	Err error
	Do  string
}

func (r *Refusal) Error() string { return r.Err.Error() + "; " + r.Do }

func (r *Refusal) Unwrap() error { return r.Err }

// advice ends what to do after every refusal.
const advice = "or use dullred watch, which prints plain lines (all commands: dullred --help)"

func refuse(do, format string, args ...any) error {
	return &Refusal{Err: fmt.Errorf(format, args...), Do: do + ", " + advice}
}
