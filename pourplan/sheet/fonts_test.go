package sheet

import (
	"strings"
	"testing"
)

func TestWrapKeepsTheWords(t *testing.T) {
	faces, err := newTypefaces()
	if err != nil {
		t.Fatal(err)
	}
	const text = "Stir slowly until no streak is left; Angelbleigießformenfülltrichterverschlußklappendeckel"
	for _, width := range []float64{6, 12, 40, 500} {
		lines := faces.wrap(bodyStyle, text, width)
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(text, " ", "") {
			t.Errorf("in %g mm letters are lost: %q", width, lines)
		}
		for _, l := range lines {
			if faces.width(bodyStyle, l) > width {
				t.Errorf("%q is wider than %g mm", l, width)
			}
		}
	}
}

func TestWrapKeepsNumbersWithUnits(t *testing.T) {
	faces, err := newTypefaces()
	if err != nil {
		t.Fatal(err)
	}
	for width := 20.0; width < 60; width++ {
		for _, l := range faces.wrap(bodyStyle, "they meet at about 305 °C (581 °F), over 12 mm in 24 h", width) {
			if last := l[len(l)-1]; last >= '0' && last <= '9' {
				t.Errorf("in %g mm a line ends in %q", width, l)
			}
		}
	}
}

func TestWrapKeepsLinesToWriteOnWithTheirWords(t *testing.T) {
	faces, err := newTypefaces()
	if err != nil {
		t.Fatal(err)
	}
	for width := 25.0; width < 60; width++ {
		for _, l := range faces.wrap(bodyStyle, "dust kept off. Poured at: L ________ R ________", width) {
			if strings.HasPrefix(l, "_") {
				t.Errorf("in %g mm a line begins with %q", width, l)
			}
		}
	}
}
