package desktop

// StayAwake asks the desktop not to blank or lock the screen until release is
// called or the program ends, and gives it the reason, which it may show. It
// waits 2 s at most, and so does release, which may be called again and then
// gives the same answer. On an error release is nil, and the error is one plain
// sentence with what the desktop said behind errors.Unwrap. A desktop that is
// started anew meanwhile has forgotten the wish.
//
// It is the interface org.freedesktop.ScreenSaver with Inhibit and UnInhibit,
// from the Idle Inhibition Service Draft of freedesktop.org, at the object path
// of that draft and at the older /ScreenSaver. There is none on Windows and
// macOS, where it gives the error.
func StayAwake(reason string) (release func() error, err error) {
	release, err = stayAwake(clean(reason, mostTitle))
	if err != nil {
		return nil, &fault{"the desktop does not offer to stay awake: set its screen lock off yourself", err}
	}
	return release, nil
}
