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
		for _, m := range FindingMarks(PlanFindings(fs), moldbox.Half{Name: name}) {
			s += m.Letter
		}
		return s
	}
	if l, r := letters("left"), letters("right"); l != "aa" || r != "ba" {
		t.Errorf("marks of the left half %q, of the right %q", l, r)
	}
}

// A mark is shown on a half from 0.5 mm outside of its parting plane on; there
// are 26 letters, and no more.
func TestFindingMarkBounds(t *testing.T) {
	for z, want := range map[float64]int{-0.49: 1, -0.5: 1, -0.51: 0, 5: 1} {
		fs := []moldbox.Finding{{Severity: moldbox.Stop, Code: "x", At: &geom.Vec{X: 1, Z: z}}}
		if got := FindingMarks(PlanFindings(fs), moldbox.Half{Name: "left"}); len(got) != want || want == 1 && (got[0].At.Z != z || got[0].Severity != moldbox.Stop) {
			t.Errorf("at %g mm over the parting plane: %+v, want %d", z, got, want)
		}
	}
	var fs []moldbox.Finding
	for i := range 28 {
		fs = append(fs, moldbox.Finding{Severity: moldbox.Warn, Code: string(rune('A' + i)), At: &geom.Vec{}})
	}
	letters := findingLetters(append(fs, fs[25]))
	if letters[0] != "a" || letters[25] != "z" || letters[26] != "" || letters[27] != "" || letters[28] != "z" {
		t.Errorf("letters %q", letters)
	}
}
