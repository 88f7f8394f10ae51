package geomtest

import "os"

// Long reports whether tests take their long variants: more random cases, finer
// tolerances. CI sets HALFPOUR_LONG for it.
func Long() bool { return os.Getenv("HALFPOUR_LONG") != "" }

// Rounds is how many random cases a test takes: few of them, or many in its long
// variant.
func Rounds(few, many int) int {
	if Long() {
		return many
	}
	return few
}
