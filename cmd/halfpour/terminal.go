package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"reflect"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/term"

	"halfpour/cmd/halfpour/system"
	"halfpour/pourplan"
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
	t.outColour = wantsColour(showsColours(t.outWidth, stdout), os.Getenv)
	t.errWidth = widthOf(stderr)
	t.errDumb = os.Getenv("TERM") == "dumb"
	t.errColour = wantsColour(showsColours(t.errWidth, stderr), os.Getenv)
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

// showsColours reports whether w is a terminal, by its width, that shows colours.
func showsColours(width int, w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && width > 0 && system.ShowsColours(f)
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

// printable is text that a terminal shows as it is meant, colours and all.
type printable string

// paint sets s off when on.
func paint(on bool, c colour, s string) printable {
	s = pourplan.Visible(s)
	if !on {
		return printable(s)
	}
	return printable("\x1b[" + string(c) + "m" + s + "\x1b[0m")
}

// text formats one line. What an argument holds is shown, never obeyed: names in
// jobs, plans and journals may hold anything. Only a printable goes through as it
// is.
func text(format string, args ...any) printable {
	clean := make([]any, len(args))
	for i, a := range args {
		_, fine := a.(printable)
		if kind := reflect.ValueOf(a).Kind(); kind >= reflect.Bool && kind <= reflect.Float64 {
			fine = true // a number
		}
		if clean[i] = a; !fine {
			clean[i] = pourplan.Visible(fmt.Sprint(a))
		}
	}
	return printable(fmt.Sprintf(format, clean...))
}

// printLine writes a line for people.
func printLine(w io.Writer, format string, args ...any) {
	fmt.Fprintln(w, text(format, args...))
}

// encode writes a document as JSON. A character that a terminal would obey is
// written by its number.
func encode(w io.Writer, document any, indent string) error {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", indent)
	if err := enc.Encode(document); err != nil {
		return err
	}
	var safe []byte
	for _, r := range out.String() {
		switch {
		case r == '\n' || !pourplan.Unseen(r):
			safe = utf8.AppendRune(safe, r)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			safe = fmt.Appendf(safe, `\u%04x\u%04x`, high, low)
		default:
			safe = fmt.Appendf(safe, `\u%04x`, r)
		}
	}
	_, err := w.Write(safe)
	return err
}

// say prints a line of the result for people; --quiet and --json silence it.
func (t *terminal) say(format string, args ...any) {
	if t.quiet || t.json {
		return
	}
	printLine(t.out, format, args...)
}
