//go:build !(linux || freebsd || netbsd || openbsd || illumos)

package desktop

func stayAwake(string) (func() error, error) { return nil, noBus }
