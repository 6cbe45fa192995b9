package board

// Screen is what a terminal shows of a feed.
func Screen(t Terminal, f *Feed) string {
	p, _ := f.Look()
	return t.screen(p)
}
