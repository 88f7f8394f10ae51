package main

import (
	"fmt"
	"io"
	"os"

	"golang.org/x/term"
)

// terminal is where a command talks to its user.
type terminal struct {
	in       io.Reader
	out, err io.Writer

	json, quiet bool // set by the options of the same names
	outColour   bool
	errColour   bool
	outWidth    int  // columns of a terminal at out, 0 when there is none
	errWidth    int  // columns of a terminal at err, 0 when there is none
	errDumb     bool // the terminal cannot draw a line over
}

// newTerminal looks at the streams themselves; out is what is written to.
func newTerminal(stdin io.Reader, out, stdout, stderr io.Writer) *terminal {
	t := &terminal{in: stdin, out: out, err: stderr}
	t.outWidth = widthOf(stdout)
	t.outColour = wantsColour(t.outWidth > 0, os.Getenv)
	t.errWidth = widthOf(stderr)
	t.errDumb = os.Getenv("TERM") == "dumb"
	t.errColour = wantsColour(t.errWidth > 0, os.Getenv)
	return t
}

// widthOf returns the columns of the terminal behind w, 0 when it is none.
func widthOf(w io.Writer) int {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return 0
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil || width <= 0 {
		return 80
	}
	return width
}

// columns is how wide text may be set: the terminal, but no wider than reads
// well, and no narrower than a table needs.
func (t *terminal) columns() int {
	const plain, widest, narrowest = 80, 110, 50
	if t.outWidth == 0 {
		return plain
	}
	return min(max(t.outWidth, narrowest), widest)
}

// wantsColour follows the NO_COLOR convention: set to anything but "" it
// turns colour off.
func wantsColour(isTerminal bool, getenv func(string) string) bool {
	return isTerminal && getenv("NO_COLOR") == "" && getenv("TERM") != "dumb"
}

// colour is a terminal's way to set text off.
type colour string

const (
	red    colour = "31"
	yellow colour = "33"
	bold   colour = "1"
)

// paint sets s off when on.
func paint(on bool, c colour, s string) string {
	if !on {
		return s
	}
	return "\x1b[" + string(c) + "m" + s + "\x1b[0m"
}

// say prints a line of the result for people; --quiet and --json silence it.
func (t *terminal) say(format string, args ...any) {
	if t.quiet || t.json {
		return
	}
	fmt.Fprintf(t.out, format+"\n", args...)
}
