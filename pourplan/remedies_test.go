package pourplan

import (
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// A remedy takes its figures, a cause goes before its code, and a finding's own
// word before both.
func TestRemedy(t *testing.T) {
	for _, c := range []struct {
		f    moldbox.Finding
		want string
	}{
		{moldbox.Finding{Code: "cavities-collide", Figures: []any{24.0}}, "set frame.pitch to 24.0 mm, or leave it out and halfpour finds it"},
		{moldbox.Finding{Code: "rubber-fin", Figures: []any{1.1, 1.32}}, "make the slit 1.1 mm wide, or at most 1.3 mm deep"},
		{moldbox.Finding{Code: "metal-along-wire", Figures: []any{0.15}}, "set hook.fit (or fit in [[keeper]]) to 0.15 mm or less"},
		{moldbox.Finding{Code: "undercut", Cause: moldbox.PartingElsewhere, Figures: []any{-0.04, 0.25}}, "set head.parting to -0.0, where no undercut is more than about 0.2 mm"},
		{moldbox.Finding{Code: "hook-misses-head", Cause: moldbox.BackTurned, Figures: []any{geom.Vec{Y: -1}}}, `try head.back = "-y"`},
		{moldbox.Finding{Code: "fewer-keys", Cause: moldbox.KeysNeedWall, Figures: []any{9.5, 4}}, "enlarge frame.to_wall to 9.5 mm: then 4 keys fit"},
		{moldbox.Finding{Code: "wires-cross"}, "move the points of [[keeper]]"},
		{moldbox.Finding{Code: "wires-cross", Cause: moldbox.CrossOutside}, "set a wider frame.pitch, or turn a cavity"},
		{moldbox.Finding{Code: "wires-cross", Remedy: "its own"}, "its own"},
		{moldbox.Finding{Code: "no such"}, ""},
	} {
		if got := Remedy(c.f); got != c.want {
			t.Errorf("%s %s: %q, want %q", c.f.Code, c.f.Cause, got, c.want)
		}
	}
}

// Every remedy that names a key names one of the job's.
func TestRemediesNameKeys(t *testing.T) {
	keys := strings.Join(KeyNames(), " ") + " "
	named := 0
	for code, text := range remedies {
		for _, word := range strings.FieldsFunc(text, func(r rune) bool { return !strings.ContainsRune("abcdefghijklmnopqrstuvwxyz_.", r) }) {
			if word = strings.TrimSuffix(word, "."); strings.Contains(word, ".") && word != "." {
				named++
				if !strings.Contains(" "+keys, " "+word+" ") && !strings.HasPrefix(word, ".") {
					t.Errorf("%s names %q, which is no key of the job", code, word)
				}
			}
		}
	}
	if named < 30 {
		t.Errorf("found only %d keys: the search is broken", named)
	}
}
