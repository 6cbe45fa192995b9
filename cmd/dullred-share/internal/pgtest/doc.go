// Package pgtest starts PostgreSQL servers for tests (build tag system): of the machine's
// own package, in a folder that goes away, on the loopback address, with the settings
// that a real one has: what it acknowledges is on disk.
//
//	func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }
//
//	s := pgtest.Common(t) // one for the whole test program
//	s := pgtest.Start(t)  // one of the test's own, to be killed
package pgtest
