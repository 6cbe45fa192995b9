// Package tui is the bench screen: what a smith keeps beside the torch.
//
// Everything it shows is derived from the record, and everything it does is an
// entry:
//
//	key -> Bench.Press -> Accept -> Desk.Write (on disk) -> fold -> Scene -> view.Draw -> cells that changed
//
// A Bench is the whole of the screen without a screen: keys go in, a view.Scene
// comes out, and nothing in it starts a goroutine or waits. A Desk is where its
// pieces and entries are kept, on disk or, for the demo, in memory. Run puts both
// on a terminal: one self-drawn widget in a tview application, behind the shadow
// screen of package term, which passes on only the cells that changed.
//
// Time is taken from a Clock. Nothing counts down in memory; the screen is drawn
// again when a figure changes, at most once a second and only while something is
// timing, flashing or waiting to disappear.
package tui
