package system

import (
	"errors"
	"os"
	"syscall"

	"golang.org/x/sys/windows"
)

// ShowsColours makes a console take colours as terminals of other systems do, and
// reports whether it does: Windows before 10 shows them as odd characters.
func ShowsColours(f *os.File) bool {
	var mode uint32
	console := windows.Handle(f.Fd())
	if windows.GetConsoleMode(console, &mode) != nil {
		return false
	}
	return windows.SetConsoleMode(console, mode|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING) == nil
}

// IsClosedPipe reports whether a write failed because nobody reads any more.
func IsClosedPipe(err error) bool {
	return errors.Is(err, syscall.EPIPE) || errors.Is(err, windows.ERROR_BROKEN_PIPE) || errors.Is(err, windows.ERROR_NO_DATA) || errors.Is(err, windows.ERROR_PIPE_NOT_CONNECTED)
}
