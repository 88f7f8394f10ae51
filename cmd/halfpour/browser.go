package main

import (
	"os/exec"
	"runtime"
)

// openBrowser asks the desktop to show an address. Where there is none, the
// person opens what was printed.
func openBrowser(address string) {
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
