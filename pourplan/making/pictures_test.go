package making

import (
	"bytes"
	"context"
	"testing"

	"halfpour/pourplan"
)

// Seen from the near edge, a wall of 17 mm hides less than 2 mm of the floor beside
// it: lettering stands further off.
func TestNearWallHidesNoLettering(t *testing.T) {
	look := lyingCamera.Look
	if hidden := 17 * look.Y / -look.Z; hidden < 0 || hidden > 2 {
		t.Errorf("a wall of 17 mm hides %.1f mm", hidden)
	}
}

// Pictures of the halves that are drawn while frames are made are those that come when
// asked for; with marks that turned out otherwise they are drawn again.
func TestPicturesDrawnEarly(t *testing.T) {
	ctx := context.Background()
	text, heads := example(t, "ball-jig")
	run := runOf(t, text, heads)
	if err := run.Make(ctx, Options{Tolerance: 0.4}); err != nil {
		t.Fatal(err)
	}
	m := run.Molds[0]
	draw := func(half, kind int) []byte {
		var out bytes.Buffer
		if err := m.writeHalf(ctx, &out, half, kind); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	for half := range m.pictures {
		for kind := range m.pictures[half] {
			m.drawEarly(ctx, half, m.Plan)
			p := &m.pictures[half][kind]
			early := p.png
			if len(early) == 0 || !bytes.Equal(draw(half, kind), early) {
				t.Fatalf("half %d, picture %d: %d bytes drawn early, or not what is written", half, kind, len(early))
			}
			p.png = nil
			if !bytes.Equal(draw(half, kind), early) {
				t.Errorf("half %d, picture %d: drawn otherwise when asked for", half, kind)
			}
			p.png, p.marks = []byte("old"), []pourplan.FindingMark{{Letter: "z"}}
			if !bytes.Equal(draw(half, kind), early) {
				t.Errorf("half %d, picture %d: written with marks that are not the plan's", half, kind)
			}
		}
	}
}
