package system

import (
	"os/exec"
	"runtime"
)

// OpenBrowser asks the desktop to show an address. Where there is no desktop, the
// person opens what was printed.
func OpenBrowser(address string) {
	command, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "windows":
		command, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	case "darwin":
		command = "open"
	}
	c := exec.Command(command, args...)
	if c.Start() == nil {
		go func() { _ = c.Wait() }()
	}
}
