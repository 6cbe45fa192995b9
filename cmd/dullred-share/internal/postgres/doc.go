// Package postgres keeps a shared record in a PostgreSQL database.
//
//	s, err := postgres.Open(ctx, postgres.Config{URL: "postgres://bench3@db.example/school", PasswordFile: "secret", Bench: id})
//
// # What the database enforces
//
// Everything stands in the schema dullred, which Prepare makes and brings up to date.
// A role that writes has no right to write to any table. It may call two functions of
// the owner: claim makes a bench its own, once; send stores entries and labels of that
// bench and of no other. Triggers refuse to change, delete or truncate entries for every
// role, the owner of the tables and the superuser too. That guards against accidents: an
// owner can drop the triggers.
//
// The digests and sums by which two records are compared are reckoned by the server from
// the columns it stores, not taken from who sends.
//
// # One line
//
// send locks the one row of dullred.head until its transaction has ended, and gives the
// next places in the line. So the order of the places is the order of the commits, and
// who has read up to a place misses nothing that comes to stand before it. It is a
// single statement: the lock is never held while a message is on its way, and a bench
// that is cut off in the middle holds nobody up. A lock that any role can take, as an
// advisory one, would let a bench stop the others.
//
// # Connections
//
// A Store has one connection for what it is asked, and one more when somebody waits for
// news. Both are made anew when they were lost. Every statement has a deadline. News
// comes by LISTEN; every few seconds Wait also asks, which finds a connection that is
// dead though nobody said so, and is all there is where LISTEN is missing.
//
// Beyond the loopback address (127.0.0.0/8, ::1, localhost, a Unix socket) only
// connections are made whose certificate is verified. A password comes from a file,
// ~/.pgpass or the environment, and never stands in an address or an error.
package postgres
