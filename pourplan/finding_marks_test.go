package pourplan

import (
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

func TestFindingMarks(t *testing.T) {
	at := func(z float64) *geom.Vec { return &geom.Vec{X: 1, Y: 2, Z: z} }
	fs := []moldbox.Finding{
		{Severity: moldbox.Stop, Code: "x", Message: "m", At: at(3)},
		{Severity: moldbox.Warn, Code: "y", Message: "m"}, // of no place
		{Severity: moldbox.Warn, Code: "z", Message: "n", At: at(-3)},
		{Severity: moldbox.Stop, Code: "x", Message: "m", At: at(-0.2)}, // alike the first
		{Severity: moldbox.Note, Code: "n", Message: "n", At: at(0)},
	}
	for i, want := range []string{"a", "", "b", "a", ""} {
		if got := findingLetters(fs)[i]; got != want {
			t.Errorf("finding %d has letter %q, want %q", i, got, want)
		}
	}
	letters := func(name string) string {
		s := ""
		for _, m := range FindingMarks(fs, moldbox.Half{Name: name}) {
			s += m.Letter
		}
		return s
	}
	if l, r := letters("left"), letters("right"); l != "aa" || r != "ba" {
		t.Errorf("marks of the left half %q, of the right %q", l, r)
	}
}
