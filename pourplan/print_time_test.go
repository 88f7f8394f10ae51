package pourplan

import "testing"

// Debian's slicer, at 0.2 mm layers with its own usual speeds, takes 29 min 25 s for
// the ball jig's test piece of 5.59 cm³.
func TestPrintTimeHoldsASlicers(t *testing.T) {
	if low, high := PrintTime(5593); low > 29*60+25 || high < 29*60+25 || high/low > 5 {
		t.Errorf("%g to %g s", low, high)
	}
	if got, want := PrintTimeText(5593), "5.6 cm³ of plastic, about 12 min to 47 min (rough)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
