// Package schedule turns what a smith logged into what to do next.
//
// Entries are the only thing that is kept: a pass, a reading, a heat, a crack.
// Fold replays the entries of one piece into its State, zone by zone, and
// Advise says what follows from the State at a moment: carry on, so many
// courses left, anneal soon, anneal now. Strain, softness and timers are
// derived; nothing counts down in memory, so a restart, a second window and a
// late tick all show the same figure.
//
//	rows -> DecodeAll -> []Entry -> Fold -> State -> Advise(now) -> Advice
//
// The package reads no clock, no environment and no file: the moment comes in
// as an argument and rows come from whoever keeps them.
//
// # Policy
//
// The zero Verdict is unknown, never carry on. A heat that was not proved soft
// by a bend check does not reset the count. An entry this version does not know
// makes the advice of its piece unknown, with the reason, until a version that
// knows it reads the record.
package schedule
