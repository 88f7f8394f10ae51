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
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // the second Ctrl-C kills
	os.Exit(run(ctx, os.Args, os.Stdin, os.Stdout, os.Stderr))
}
