// Package board shows a shared record on a wall: as a page of a terminal for a projector,
// and as a web page for a tablet by the hearth. It only reads.
//
//	f := board.NewFeed(open, time.Now)
//	go f.Run(ctx)                                        // reads, and goes on when the server went and came back
//	err := board.Terminal{Out: os.Stdout, Size: size}.Run(ctx, f)
//	d, err := board.Listen(board.Place{Address: "127.0.0.1:8080", Now: time.Now()})
//	err = board.Serve(ctx, f, d)
//
// # What is read
//
// The end of the line, some 20,000 places, says which pieces are worked at; those are
// read from their beginning, and from then on what is new is followed. A piece whose last
// entry lies further back is not looked for.
//
// # What is seen
//
// What presses comes first, each with one word in capitals, its bench and its piece: danger,
// what must stop, what is hot, what nobody has seen. On the web page it fills the first
// screen, in letters as large as there is room for, so that nothing of it is below the
// edge; all pieces follow in a table. Up to 10 such at 1280 by 800 pixels of 96 to the inch,
// and up to 21 at 1920 by 1080, are read at 2 m: 20 minutes of arc for word and bench, 16
// for the piece. How many press is above in letters of that size, however many they are.
//
// # The web page
//
// It is given to who asks for it by a name of this machine, so that a page from elsewhere
// that had its name turned to 127.0.0.1 gets nothing; beyond the loopback address only over
// TLS, and by the names of the certificate too. It loads nothing but itself. What changes
// comes as server-sent events, and the time every five seconds: a page that has heard nothing
// for fifteen says that it is old. Read aloud is only what is new and cannot wait. Where
// there is no script the page is loaded anew every five seconds; should that fail it shows
// an error of the browser, from which Chromium comes back by itself and others by hand.
package board
