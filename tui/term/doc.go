// Package term is the ground the bench screen stands on: a terminal that takes
// any byte from a keyboard, redraws only what changed, and is given back to the
// shell whatever happens.
//
// A program opens the screen, guards it, watches the signals and runs its loop:
//
//	screen, err := term.Open() // one sentence that says what to do, on error
//	if err != nil {
//		return err
//	}
//	app := tview.NewApplication().SetScreen(screen).EnablePaste(true)
//	stop := sync.OnceFunc(app.Stop)
//	guard := term.NewGuard(screen)
//	guard.OnPanic(stop)
//	unwatch := term.Signals{
//		Quit:    func(os.Signal) { stop() },
//		Suspend: func() { _ = screen.PostEvent(suspendKey) },
//		Resumed: func() { _ = screen.PostEvent(refreshKey) },
//	}.Watch(guard)
//	guard.Do(func() { err = app.Run() })
//	unwatch()
//	screen.Fini()
//	if p := guard.Wait(); p != nil {
//		return p // to stderr, and an exit code that is not 0
//	}
//	return err
//
// Stop is called once, by the keys as well: tview ends Run with an unlocked write
// that a second Stop in another goroutine reads.
//
// # Keys
//
// tcell 2.13 loops for ever on one byte that is not UTF-8, which a keyboard set
// to Latin-1 or a noisy line sends. Tty takes such bytes out before tcell sees
// them. It is in use on Unix; elsewhere the terminal is tcell's own.
//
// # Drawing
//
// tview clears the screen and draws all of it for every change, and tcell then
// sends every cell that is not blank. Shadow stands between the two: it takes
// the drawing, and at Show hands tcell the cells that differ. It also keeps the
// events, so that tcell never waits for a busy program: a tcell that waits
// cannot be suspended or ended. Shadow is one lock wide; all its methods may be
// called from any goroutine.
//
// Colours says how many colours there are. In a Mono terminal tcell drops
// backgrounds and reverses dark text, so that a bar drawn with colour alone
// cannot be seen: draw full and empty with different characters.
//
// # Giving the terminal back
//
// A panic in any goroutine, SIGTERM, SIGHUP, SIGINT or SIGPIPE would leave the
// terminal raw, on its second page and without a cursor. Guard ends the screen
// before a panic is told, Signals turns the signals into calls. What cannot be
// caught is SIGKILL, SIGQUIT, and a fatal error of the Go run time such as two
// goroutines writing one map.
//
// When the terminal is lost (its window was closed), reading it or taking it
// again fails, the screen gives a tcell.EventError, and a tview Application ends
// by itself.
//
// # Stopping and going on
//
// In raw mode Ctrl-Z is a key. The event loop answers it by calling Suspend,
// which gives the terminal back, stops the process group until the shell
// continues it, and takes the terminal again; then the loop draws. SIGTSTP from
// outside is handed to Signals.Suspend, which must bring it into the event loop,
// for instance as a key that no keyboard sends. Neither may wait for the event
// loop from inside it: tview's QueueUpdate there never returns.
package term
