package moldbox

import (
	"math"
	"testing"

	"halfpour/geom"
)

// Tiles lie on the plate, are closed, and what they are to try is in them: the wire lies in
// both beds and in no rubber, and two keys close on each other.
func TestTestTiles(t *testing.T) {
	m := ballMold(t, 1)
	const tolerance = 0.05
	tiles, err := m.TestTiles(t.Context(), tolerance)
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string]*geom.TriMesh{}
	for _, tile := range tiles {
		byName[tile.Name] = tile.Mesh
		if b := tile.Mesh.BoundingBox(); math.Abs(b.Min.X)+math.Abs(b.Min.Y)+math.Abs(b.Min.Z) > 1e-6 {
			t.Errorf("%s stands at %v", tile.Name, b.Min)
		}
		if s := geom.TopologyOf(tile.Mesh); s.Shells != 1 || s.Hollows != 0 {
			t.Errorf("%s has %d bodies and %d hollows", tile.Name, s.Shells, s.Hollows)
		}
	}
	for _, name := range []string{"left hook bed", "right hook bed", "left key", "right key", "left letter"} {
		if byName[name] == nil {
			t.Fatalf("no %s among %d tiles", name, len(tiles))
		}
	}
	// The bed's tile is turned over about X to be printed: its face is up, level with
	// the parting plane, and the eye is in its middle.
	for half, h := range map[string]Half{"left": m.Left, "right": m.Right} {
		bed := byName[half+" hook bed"]
		solid, err := geom.NewMeshSolid(bed)
		if err != nil {
			t.Fatal(err)
		}
		size := bed.BoundingBox().Size()
		eye, inside := h.ToPrint(m.Cavities[0].Eye), 0
		for x := -9.0; x <= 9; x += 0.37 {
			for y := -9.0; y <= 9; y += 0.37 {
				for _, z := range []float64{0.2, 0.4} {
					p := eye.Add(geom.Vec{X: x, Y: y, Z: z})
					wire := m.Cavities[0].Wire.Evaluate(h.ToPrint(p)) < 0 // ToPrint is its own inverse
					onTile := geom.Vec{X: size.X/2 + x, Y: size.Y/2 - y, Z: size.Z - z}
					if wire && solid.Evaluate(onTile) < -2*tolerance {
						t.Fatalf("%s: the wire is in the plastic at %v", half, p)
					}
					if wire {
						inside++
					}
				}
			}
		}
		if inside < 20 {
			t.Errorf("%s: %d points of the wire met", half, inside)
		}
	}
	k := m.Spec.Keys
	left, right := byName["left key"].BoundingBox().Size(), byName["right key"].BoundingBox().Size()
	bump, socket := right.Z, left.Z
	if !m.Keys[0].BumpLeft { // of the rubber, whose frame has a hollow there
		bump, socket = socket, bump
	}
	// What makes the rubber's socket rises over the other by the key and its clearance.
	if want := k.Depth + k.Clearance; math.Abs(bump-socket-want) > 2*tolerance {
		t.Errorf("the tiles of a key are %.2f and %.2f mm high, with a key of %g mm", bump, socket, want)
	}
}
