//go:build !js

package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"slices"
	"syscall"

	"halfpour/cmd/halfpour/system"
)

func main() {
	// A reader that has seen enough ("| head") is no failure: writes then
	// return EPIPE, which run takes for success.
	signal.Ignore(syscall.SIGPIPE)
	kept := saveMemory()
	ctx, stop := signal.NotifyContext(context.Background(), endings()...)
	context.AfterFunc(ctx, stop) // the second Ctrl-C kills
	args := os.Args
	clicked := len(args) == 1 && system.StartedByClick()
	if clicked {
		args = append(args, "desk", "--mine")
	}
	code := run(ctx, args, os.Stdin, os.Stdout, os.Stderr)
	runtime.KeepAlive(kept)
	if clicked && code != int(exitFine) && ctx.Err() == nil { // its window would close over what is wrong
		fmt.Fprintln(os.Stderr, "Press Enter to close this window.")
		_, _ = os.Stdin.Read(make([]byte, 1))
	}
	os.Exit(code)
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

// run carries out one command line, args[0] being the program's name, and
// returns its exit code. Results go to stdout; errors, hints and progress to
// stderr. When ctx ends, it leaves no half-written file and returns 130.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	out := &watchedWriter{w: stdout}
	t := newTerminal(stdin, out, stdout, stderr)
	app := newApp(t)
	args = optionsFirst(app, args)
	// A command line that cannot be parsed still fails in the asked form.
	t.json = slices.Contains(args, "--json")
	err := app.RunContext(ctx, args)
	if err == nil {
		err = out.failure()
	}
	if err == nil {
		return int(exitFine)
	}
	f := faultOf(err)
	f.report(t)
	return int(f.code)
}

// watchedWriter remembers the first failure to write.
type watchedWriter struct {
	w   io.Writer
	err error
}

func (o *watchedWriter) Write(p []byte) (int, error) {
	n, err := o.w.Write(p)
	if err != nil && o.err == nil {
		o.err = err
	}
	return n, err
}

// failure returns what went wrong with writing; a closed pipe did not.
func (o *watchedWriter) failure() error {
	if system.IsClosedPipe(o.err) || errors.Is(o.err, io.ErrClosedPipe) {
		return nil
	}
	return o.err
}
