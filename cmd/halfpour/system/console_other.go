//go:build !windows

package system

import (
	"errors"
	"os"
	"syscall"
)

// ShowsColours reports whether a terminal shows colours.
func ShowsColours(*os.File) bool { return true }

// IsClosedPipe reports whether a write failed because nobody reads any more.
func IsClosedPipe(err error) bool { return errors.Is(err, syscall.EPIPE) }
