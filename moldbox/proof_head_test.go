package moldbox

import (
	"context"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
)

// Of cavities that are alike, each is held against the frame where it stands, and the
// greatest deviation is that of all.
func TestProofLooksAtEachHead(t *testing.T) {
	m := ballMold(t, 3)
	var profile [][2]float64
	for i := range 13 {
		sin, cos := math.Sincos(math.Pi * float64(i) / 12)
		profile = append(profile, [2]float64{-6 * cos, 6 * sin})
	}
	mesh := revolved(profile, 24, 1)
	heads := []*geom.TriMesh{mesh, mesh, mesh}
	const off = 0.03
	for _, h := range m.Halves() {
		p := HalfProof{Tolerance: 0.05}
		if err := p.addHeads(context.Background(), m, h, h.Frame, heads); err != nil {
			t.Fatal(err)
		}
		if p.HeadPoints == 0 || p.HeadPoints%3 != 0 || p.HeadDeviation > 1e-9 {
			t.Errorf("%s half: %d points of three heads, %g mm off", h.Name, p.HeadPoints, p.HeadDeviation)
		}
		for i, c := range m.Cavities {
			where := h.InMold().Box(c.Head.BoundingBox())
			worn := HalfProof{Tolerance: 0.05}
			dented := geom.Union(geom.Subtract(h.Frame, geom.Block(where)), geom.Intersect(geom.Block(where), geom.Offset(h.Frame, off)))
			if err := worn.addHeads(context.Background(), m, h, dented, heads); err != nil || math.Abs(worn.HeadDeviation-off) > 1e-3 {
				t.Errorf("%s half, head %d too large by %g: %g, %v", h.Name, i, off, worn.HeadDeviation, err)
			}
			missing := HalfProof{Tolerance: 0.05}
			err := missing.addHeads(context.Background(), m, h, geom.Subtract(h.Frame, geom.Block(where)), heads)
			if err == nil || !strings.Contains(err.Error(), "of the head of "+c.Name) {
				t.Errorf("%s half, head %d missing: %v", h.Name, i, err)
			}
		}
	}
}

// The deviation is the greatest of all points, whichever comes first.
func TestProofTellsTheGreatestDeviation(t *testing.T) {
	m := ballMold(t, 1)
	surface, err := geom.NewMeshSolid(cubeAt(geom.Vec{}, 4))
	if err != nil {
		t.Fatal(err)
	}
	p := HalfProof{Tolerance: 1}
	for i, off := range []float64{0.1, 0.4, 0.2, 0.3, 0.6, 0.5} {
		shown := []shownPoint{{i, m.Left.InMold().Point(geom.Vec{X: surface.BoundingBox().Max.X + off})}}
		before := p.HeadDeviation
		if err := p.addHead(context.Background(), &m.Cavities[0], m.Left, surface, shown, geom.Vec{}); err != nil {
			t.Fatal(err)
		}
		if want := max(before, off); math.Abs(p.HeadDeviation-want) > 1e-9 || p.HeadPoints != i+1 {
			t.Errorf("after %g mm: %g of %d points, want %g", off, p.HeadDeviation, p.HeadPoints, want)
		}
	}
}
