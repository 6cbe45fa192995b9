package schedule

import (
	"errors"
	"fmt"
)

// KindFinished is the end of the work on a piece.
const KindFinished Kind = "finished"

// Finished is the word that a piece is done. It gets no more advice to work it, until
// the word is taken back.
type Finished struct{}

// Kind is KindFinished.
func (Finished) Kind() Kind { return KindFinished }

// ErrFinished is returned by Accept for work on a piece that is finished.
var ErrFinished = errors.New("the piece is finished")

// finish ends the piece, or says so again: two benches may both have finished it, and
// which of them was right is for the smith to say.
func (s *State) finish(e Entry) { s.Finished = append(s.Finished, e.ID) }

// Done reports whether a piece is finished, or was said to be.
func (s *State) Done() bool { return len(s.Finished) > 0 }

// works reports whether a body is work on the metal or a heat, which a finished piece
// does not get.
func works(b Body) bool {
	switch b.(type) {
	case Pass, Begun, Filed, Dressed, Planned, Jointed:
		return true
	}
	return false
}

// acceptDone refuses work on a finished piece, and a second end of it.
func (s *State) acceptDone(b Body) error {
	if !s.Done() {
		return nil
	}
	if _, again := b.(Finished); !again && !works(b) {
		return nil
	}
	return fmt.Errorf("%w, by the entry %s", ErrFinished, Entry{ID: s.Finished[0]}.Handle())
}

// acceptEnd refuses to end a piece on which something is under way.
func (s *State) acceptEnd() error {
	for _, z := range s.Zones {
		switch {
		case z.hot():
			return fmt.Errorf("%w is not finished: %s is to be cooled first", ErrHot, z.Name)
		case z.inPickle():
			return fmt.Errorf("%s is in the pickle: it is to be rinsed first", z.Name)
		}
	}
	return nil
}

// whenFinished is what is worth knowing of a finished piece.
func (w words) whenFinished() (out []string) {
	for _, z := range w.state.Zones {
		if z.Crack != NoCrack {
			out = append(out, fmt.Sprintf("%s has a crack in it that was not filed out", z.Name))
		}
	}
	for _, text := range []string{w.ledger(), w.state.Hallmark()} {
		if text != "" {
			out = append(out, text)
		}
	}
	return out
}

// finished is what is left to do with a finished piece: nothing, but where the log
// contradicts itself.
func (w words) finished() string {
	if n := len(w.state.Finished); n > 1 {
		return fmt.Sprintf("it was finished %d times: void all but one in its log, so that its record says when", n)
	}
	lost, share, weighed := w.state.Weights.Lost()
	if !weighed {
		return "finished: weigh it for its record, as dullred weigh does"
	}
	return fmt.Sprintf("finished: %v of %v, %v or %.1f %% lost", w.state.Weights.Out, w.state.Weights.In, lost, 100*share)
}
