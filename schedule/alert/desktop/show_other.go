//go:build !(linux || freebsd || netbsd || openbsd || illumos)

package desktop

import (
	"context"

	"github.com/gen2brain/beeep"
)

// show gives a notice to the desktop; urgent ones are shown like the others.
func show(_ context.Context, n Notice) error { return beeep.Notify(n.Title, n.Body, "") }
