package geom

import (
	"context"
	"strings"
	"testing"
)

// Two pieces that run through each other cannot be mended by thinning less.
func TestThinRefusesWhatCrossesAnyway(t *testing.T) {
	m := &TriMesh{}
	tetrahedronAt(m, Vec{}, 5)
	tetrahedronAt(m, Vec{X: 1, Y: 1, Z: -1}, 3)
	if _, err := thin(context.Background(), drawnSkin(m), 0.01, 0.1); err == nil || !strings.Contains(err.Error(), "crosses itself") {
		t.Errorf("got %v", err)
	}
}

// Marks go where a triangle touches an unmarked one.
func TestClearOfOthers(t *testing.T) {
	m := &TriMesh{}
	tetrahedronAt(m, Vec{}, 1)
	tetrahedronAt(m, Vec{X: 5}, 1)
	marks := []bool{true, true, false, true, true, true, true, true}
	for i, kept := range clearOfOthers(m, marks) {
		if kept != (i >= 4) {
			t.Errorf("triangle %d: kept %v", i, kept)
		}
	}
}
