// Package board shows a shared record on a wall: as a page of a terminal for a projector,
// and as a web page for a tablet by the hearth. It only reads.
//
//	f := board.NewFeed(open, time.Now)
//	go f.Run(ctx)                                        // reads, and goes on when the server went and came back
//	err := board.Terminal{Out: os.Stdout, Size: size}.Run(ctx, f)
//	l, err := board.Listen("127.0.0.1:8080")
//	err = board.Serve(ctx, f, l)
//
// # What is read
//
// The end of the line, some 30,000 places, says which pieces are worked at; those are
// read from their beginning, and from then on what is new is followed. A piece whose last
// entry lies further back is not looked for.
//
// # The web page
//
// It is given on the loopback address alone, to who asks for it by a name of this
// machine, so that a page from elsewhere that had its name turned to 127.0.0.1 gets
// nothing. It loads nothing but itself. What changes comes as server-sent events; where
// there is no script the page is loaded anew every five seconds.
package board
