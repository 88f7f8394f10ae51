package moldbox

import (
	"context"
	"testing"
)

// Metal and wires are meshed once for cavities that are alike and for all who ask,
// whoever comes first; a cavity without a hook has no wires.
func TestBodies(t *testing.T) {
	m := ballMold(t, 3)
	b := NewBodies(m, 0.2, 0.1)
	first, err := b.Metal(context.Background(), 2)
	if err != nil || m.Cavities[2].AlikeTo != 0 {
		t.Fatal(err, m.Cavities[2].AlikeTo)
	}
	volume, want := first.Volume(), volume(t, m.Cavities[0].Metal, m.Cavities[0].Metal.BoundingBox()).Best
	if again, err := b.Metal(context.Background(), 0); err != nil || again != first || !within(volume, want, 0.02) {
		t.Errorf("metal of the first and the third: %p and %p, %v; %.1f mm³ of %.1f", again, first, err, volume, want)
	}
	wires, err := b.Wires(context.Background(), 1)
	if again, _ := b.Wires(context.Background(), 0); err != nil || again != wires || (wires == nil) != (m.Cavities[0].Wire == nil) {
		t.Errorf("wires: %p and %p, %v", again, wires, err)
	}
	if _, err := NewBodies(m, 0.2, 0.1).Metal(cancelled(), 0); err == nil {
		t.Error("goes on after its context has ended")
	}
}
