//go:build !windows

package system

import (
	"os"
	"runtime"

	"golang.org/x/term"
)

// StartedByClick reports whether a desktop started the program: there is one, and
// no terminal, neither for the streams nor for the process.
func StartedByClick() bool {
	desktop := runtime.GOOS == "darwin" || os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
	if !desktop || os.Getenv("CI") != "" {
		return false
	}
	for _, f := range []*os.File{os.Stdin, os.Stdout, os.Stderr} {
		if info, err := f.Stat(); err == nil && (info.Mode().IsRegular() || info.Mode()&os.ModeNamedPipe != 0 || term.IsTerminal(int(f.Fd()))) {
			return false // a script that wants to read, or a person who does
		}
	}
	tty, err := os.OpenFile("/dev/tty", os.O_RDWR, 0)
	if err != nil {
		return true
	}
	_ = tty.Close()
	return false
}
