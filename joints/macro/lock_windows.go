package macro

import (
	"errors"
	"os"
	"syscall"
	"unsafe"
)

var lockFileEx = syscall.NewLazyDLL("kernel32.dll").NewProc("LockFileEx")

// lock takes the file for this process; false where another one has it. The
// system gives it up when the file is closed or the process dies.
func lock(file *os.File) (bool, error) {
	const failImmediately, exclusive = 1, 2
	const errorLockViolation = syscall.Errno(33)
	// One byte far behind any data, so that reading stays possible.
	at := syscall.Overlapped{OffsetHigh: 0x7fffffff}
	r, _, err := lockFileEx.Call(file.Fd(), failImmediately|exclusive, 0, 1, 0, uintptr(unsafe.Pointer(&at)))
	if r != 0 {
		return true, nil
	}
	if errors.Is(err, errorLockViolation) {
		return false, nil
	}
	return false, err
}
