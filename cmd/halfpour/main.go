// Command halfpour turns a bait head and a hook into a two-half rubber mold:
// frames to print, and a sheet that says what to weigh, mix, pour and melt.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	// A reader that has seen enough ("| head") is no failure: writes then
	// return EPIPE, which run takes for success.
	signal.Ignore(syscall.SIGPIPE)
	saveMemory()
	ctx, stop := signal.NotifyContext(context.Background(), endings()...)
	context.AfterFunc(ctx, stop) // the second Ctrl-C kills
	os.Exit(run(ctx, os.Args, os.Stdin, os.Stdout, os.Stderr))
}

// endings are the signals that end the program, with nothing left half done. A
// terminal that closes sends SIGHUP, unless the program was started to outlive
// it, as with nohup.
func endings() []os.Signal {
	list := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) {
		list = append(list, syscall.SIGHUP)
	}
	return list
}
