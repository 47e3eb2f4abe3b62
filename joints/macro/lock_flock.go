//go:build darwin || dragonfly || freebsd || illumos || linux || netbsd || openbsd

package macro

import (
	"errors"
	"os"
	"syscall"
)

// lock takes the file for this process; false where another one has it. The
// system gives it up when the file is closed or the process dies.
func lock(file *os.File) (bool, error) {
	for {
		err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, syscall.EINTR):
		case errors.Is(err, syscall.EWOULDBLOCK):
			return false, nil
		default:
			return false, err
		}
	}
}
