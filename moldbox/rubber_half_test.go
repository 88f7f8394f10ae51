package moldbox

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
)

// The rubber's mesh encloses what is measured of the rubber: two ways to one
// volume, by triangles and by cells.
func TestRubberHalfIsWhatIsWeighed(t *testing.T) {
	const tolerance = 0.05
	m := ballMold(t, 1)
	for _, h := range []Half{m.Left, m.Right} {
		measured := volume(t, h.Rubber(), geom.Box{})
		mesh, err := geom.Mesh(context.Background(), h.RubberInMold(), geom.MeshOptions{Tolerance: tolerance})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range geom.Audit(mesh) {
			t.Errorf("%s rubber: %v", h.Name, f)
		}
		if !oneShell(mesh) {
			t.Errorf("the %s rubber falls apart", h.Name)
		}
		near(t, h.Name+" rubber", mesh.Volume(), measured.Best, tolerance*mesh.Area()/10)
		if v := mesh.Volume(); v < measured.Lo-tolerance*mesh.Area() || v > measured.Hi+tolerance*mesh.Area() {
			t.Errorf("%s rubber: the mesh encloses %.1f mm³, certain are %.1f to %.1f", h.Name, v, measured.Lo, measured.Hi)
		}
		b, side := mesh.BoundingBox(), 1.0
		if h.Name == "right" {
			side = -1
		}
		outer := math.Max(side*b.Min.Z, side*b.Max.Z)
		near(t, h.Name+" rubber's back in the mold", outer, h.FillHeight, tolerance)
	}
}

// The surface taken from the frame's mesh is closed, encloses what is measured of
// the rubber, and lies on the rubber's surface.
func TestRubberMeshOfAFrame(t *testing.T) {
	const tolerance = 0.05
	spec := ballSpec(2)
	spec.Marking.Relief = 0.6
	m := buildOf(t, spec)
	for _, h := range []Half{m.Left, m.Right} {
		frame, err := geom.Mesh(context.Background(), h.Frame, geom.MeshOptions{Tolerance: tolerance})
		if err != nil {
			t.Fatal(err)
		}
		mesh, err := h.RubberMesh(frame)
		if err != nil {
			t.Fatal(err)
		}
		if cap(mesh.Vertices) > len(mesh.Vertices) || cap(mesh.Triangles) > len(mesh.Triangles) {
			t.Errorf("%s rubber: room for %d vertices and %d triangles is not needed", h.Name, cap(mesh.Vertices)-len(mesh.Vertices), cap(mesh.Triangles)-len(mesh.Triangles))
		}
		for _, f := range geom.Audit(mesh) {
			if !f.IsNote() {
				t.Errorf("%s rubber: %v", h.Name, f)
			}
		}
		rubber := h.Rubber()
		near(t, h.Name+" rubber", mesh.Volume(), volume(t, rubber, geom.Box{}).Best, tolerance*mesh.Area()/10)
		for _, p := range mesh.Vertices {
			// The lid's middle, the rim and what lies against plastic.
			if d := math.Abs(rubber.Evaluate(p)); d > tolerance {
				t.Fatalf("%s rubber: vertex at %v is %.3f mm from the rubber's surface", h.Name, p, d)
			}
		}
		if _, err := h.RubberMesh(&geom.TriMesh{}); err == nil {
			t.Error("an empty frame has rubber")
		}
	}
}

// In the closed mold the halves share nothing, and but for what is hollow they
// touch all over the parting plane.
func TestRubberHalvesMeet(t *testing.T) {
	const seed, beside = 40, 0.01
	r := rand.New(rand.NewPCG(seed, 0))
	for round := range 3 {
		m := buildOf(t, randomBalls(r))
		left, right := m.Left.RubberInMold(), m.Right.RubberInMold()
		both, err := geom.Integrate(context.Background(), geom.Intersect(left, right), geom.IntegrateOptions{AbsTol: 1})
		if err != nil {
			t.Fatal(err)
		}
		if both.Lo > 0 || both.Best > 0.5 {
			t.Errorf("seed %d round %d: the halves share %.2f..%.2f mm³, about %.2f", seed, round, both.Lo, both.Hi, both.Best)
		}
		met, in := 0, m.Left.Inside
		for range 20000 {
			p := geom.Vec{X: in.Min.X + r.Float64()*in.Size().X, Y: in.Min.Y + r.Float64()*in.Size().Y}
			l, o := p.Add(geom.Vec{Z: beside}), p.Sub(geom.Vec{Z: beside})
			if m.Block.Evaluate(p) > -2*beside || m.Void.Evaluate(p) < 2*beside || m.inKey(p) {
				continue
			}
			met++
			if !geom.Inside(left, l) || geom.Inside(left, o) || !geom.Inside(right, o) || geom.Inside(right, l) {
				t.Fatalf("seed %d round %d: the halves do not meet at %v", seed, round, p)
			}
		}
		if met < 5000 {
			t.Errorf("seed %d round %d: looked at %d places, the test shows too little", seed, round, met)
		}
	}
}

// inKey reports whether a point of the parting plane is within a key's socket.
func (m *Mold) inKey(p geom.Vec) bool {
	for _, k := range m.Keys {
		if p.Dist(k.At) < m.Spec.Keys.socketRadius()+0.1 {
			return true
		}
	}
	return false
}

// Each bump of one half goes into its socket in the other with the clearance
// all round: between the two domes there is neither half's rubber.
func TestKeysFitInTheClosedMold(t *testing.T) {
	const beside = 0.01
	for _, coat := range []float64{0, 0.1} {
		spec := ballSpec(2)
		spec.Finish.SealCoat = coat
		m := buildOf(t, spec)
		for i, k := range m.Keys {
			bump, socket := m.Right.RubberInMold(), m.Left.RubberInMold()
			if k.BumpLeft {
				bump, socket = socket, bump
			}
			radius := (k.Diameter*k.Diameter/4 + k.Depth*k.Depth) / (2 * k.Depth)
			centre := geom.Vec{X: k.At.X, Y: k.At.Y, Z: k.side() * (k.Depth - radius)}
			for _, tilt := range []float64{0, 0.3, 0.6} { // of the axis, in the parting plane's share of the dome
				for turn := range 8 {
					tilt := tilt * math.Acos((radius-k.Depth)/radius)
					sin, cos := math.Sincos(float64(turn) * math.Pi / 4)
					out := geom.Vec{X: math.Sin(tilt) * cos, Y: math.Sin(tilt) * sin, Z: k.side() * math.Cos(tilt)}
					for _, c := range []struct {
						from           float64 // of the bump's surface
						bump, inSocket bool
					}{
						{-beside, true, false}, {beside, false, false},
						{spec.Keys.Clearance - beside, false, false}, {spec.Keys.Clearance + beside, false, true},
					} {
						p := centre.Add(out.Mul(radius + c.from))
						if geom.Inside(bump, p) != c.bump || geom.Inside(socket, p) != c.inSocket {
							t.Fatalf("seal coat %g: key %d, %.2f mm over the bump: bump %v, socket %v", coat, i, c.from,
								geom.Inside(bump, p), geom.Inside(socket, p))
						}
					}
				}
			}
		}
	}
}

// The shot fills what the halves leave for metal: nothing of it is in rubber,
// and it is the heads' metal and what runs to them.
func TestShotIsInTheHollow(t *testing.T) {
	m := ballMold(t, 2)
	shot, rubber := m.Shot(), geom.Union(m.Left.RubberInMold(), m.Right.RubberInMold())
	want := 0.0
	for _, c := range m.Cavities {
		want += volume(t, c.Metal, geom.Box{}).Best
	}
	near(t, "shot", volume(t, shot, geom.Box{}).Best, want, 2e-3*want)
	const seed = 41
	r := rand.New(rand.NewPCG(seed, 0))
	b := shot.BoundingBox()
	in := 0
	for range 50000 {
		p := b.Min.Add(geom.Vec{X: r.Float64() * b.Size().X, Y: r.Float64() * b.Size().Y, Z: r.Float64() * b.Size().Z})
		if !geom.Inside(shot, p) {
			continue
		}
		in++
		if rubber.Evaluate(p) < -1e-6 {
			t.Fatalf("seed %d: metal is in the rubber at %v", seed, p)
		}
		if geom.Inside(m.Wires(), p) {
			t.Fatalf("seed %d: metal is in a wire at %v", seed, p)
		}
	}
	if in < 2000 {
		t.Errorf("seed %d: %d points in metal, the test shows too little", seed, in)
	}
}

func TestNoWires(t *testing.T) {
	if w := buildOf(t, plainBalls(6)).Wires(); w != nil {
		t.Errorf("a mold without hooks has wires: %v", w.BoundingBox())
	}
}
