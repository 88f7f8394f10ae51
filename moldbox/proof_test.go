package moldbox

import (
	"context"
	"errors"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// provedMold is a mold of one ball with the ball's mesh, drawn finely enough to
// be proved.
func provedMold(t *testing.T) (*Mold, []*geom.TriMesh) {
	t.Helper()
	m := provedOnce()
	if m.err != nil {
		t.Fatal(m.err)
	}
	return m.mold, m.heads
}

var provedOnce = sync.OnceValue(func() (m struct {
	mold  *Mold
	heads []*geom.TriMesh
	err   error
}) {
	var profile [][2]float64
	const rings = 24
	for i := range rings + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / rings)
		profile = append(profile, [2]float64{-6 * cos, 6 * sin})
	}
	mesh := revolved(profile, 48, 1)
	spec := ballSpec(1)
	if spec.Cavities[0].Head, m.err = geom.NewMeshSolid(mesh); m.err == nil {
		m.mold, m.err = Build(context.Background(), spec)
	}
	m.heads = []*geom.TriMesh{mesh}
	return m
})

// Each claim of the proof is broken once, on a real frame.
func TestProofFails(t *testing.T) {
	ctx := context.Background()
	const tolerance = 0.2
	mold, heads := provedMold(t)
	half := mold.Left
	mesh, err := geom.Mesh(ctx, half.Frame, geom.MeshOptions{Tolerance: tolerance})
	if err != nil {
		t.Fatal(err)
	}
	rubber := rubberOf(t, half)
	moved := func(m *geom.TriMesh, by geom.Vec) *geom.TriMesh {
		return m.Transform(func(v geom.Vec) geom.Vec { return v.Add(by) }, false)
	}
	larger := func(by float64) *geom.TriMesh {
		return mesh.Transform(func(v geom.Vec) geom.Vec { return v.Mul(by) }, false)
	}
	for _, c := range []struct {
		name  string
		mesh  *geom.TriMesh
		heads []*geom.TriMesh
		want  string // "" for a proof that holds
	}{
		{"sound", mesh, heads, ""},
		{"a triangle short", &geom.TriMesh{Vertices: mesh.Vertices, Triangles: mesh.Triangles[1:]}, heads, "3 open edges"},
		{"a hollow in the floor", with(mesh, cubeAt(geom.Vec{Z: -1}, -0.2)), heads, "closed hollows inside: 1, near"},
		{"a crumb over it", with(mesh, cubeAt(geom.Vec{Z: 40}, 0.2)), heads, "it is in 2 pieces, its heads explain 1 at most"},
		{"a fiftieth too large", larger(1.02), heads, "the limit is a difference of"},
		{"a fiftieth too small", larger(0.98), heads, "the limit is a difference of"},
		{"frame moved", moved(mesh, geom.Vec{X: 0.5}), heads, "from its surface, the limit is 0.2 mm"},
		{"head moved", mesh, []*geom.TriMesh{moved(heads[0], geom.Vec{Z: 0.5})}, "from its surface, the limit is 0.2 mm"},
		{"one point of the head moved", mesh, []*geom.TriMesh{bumped(mold, heads[0], 2*tolerance)}, "from its surface, the limit is 0.2 mm"},
		{"head out of the way", mesh, []*geom.TriMesh{moved(heads[0], geom.Vec{Z: -99})}, "it holds no point of any head's surface"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := mold.proveHalf(ctx, half, c.mesh, known(rubber), tolerance, c.heads, func(string) {})
			if c.want == "" {
				if err != nil || p.HeadPoints < 100 {
					t.Errorf("%v, %d points", err, p.HeadPoints)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("want %q, got %v", c.want, err)
			}
		})
	}
}

// known returns rubber that has been measured.
func known(rubber geom.Integral) func() (geom.Integral, error) {
	return func() (geom.Integral, error) { return rubber, nil }
}

// rubberOf is the volume of a half's rubber.
func rubberOf(t *testing.T, half Half) geom.Integral {
	t.Helper()
	v, err := geom.Integrate(context.Background(), half.Rubber(), geom.IntegrateOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// with is two meshes that do not meet as one.
func with(m, n *geom.TriMesh) *geom.TriMesh {
	all := &geom.TriMesh{Vertices: append(slices.Clone(m.Vertices), n.Vertices...), Triangles: slices.Clone(m.Triangles)}
	for _, t := range n.Triangles {
		for k := range t {
			t[k] += int32(len(m.Vertices))
		}
		all.Triangles = append(all.Triangles, t)
	}
	return all
}

// cubeAt is a cube of an edge, turned inside out when that is below 0.
func cubeAt(at geom.Vec, edge float64) *geom.TriMesh {
	m := &geom.TriMesh{Triangles: [][3]int32{{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
		{2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}}}
	for i := range 8 {
		m.Vertices = append(m.Vertices, geom.Box{Min: at, Max: at.Add(geom.Vec{X: edge, Y: edge, Z: edge})}.Corner(i))
	}
	return m
}

// bumped raises the vertex of a head that stands highest in the left half.
func bumped(mold *Mold, head *geom.TriMesh, by float64) *geom.TriMesh {
	best, c := 0, mold.Cavities[0]
	for i, v := range head.Vertices {
		if c.ToMold(v).Z > c.ToMold(head.Vertices[best]).Z {
			best = i
		}
	}
	bump := &geom.TriMesh{Vertices: slices.Clone(head.Vertices), Triangles: head.Triangles}
	bump.Vertices[best] = bump.Vertices[best].Add(bump.Vertices[best].Unit().Mul(by))
	return bump
}

// A frame may have the holes of its heads and some more, not any number.
func TestProofCountsHoles(t *testing.T) {
	chain := func(n int) *geom.TriMesh {
		var rings []geom.Solid
		for i := range n {
			rings = append(rings, geom.Torus(geom.Vec{X: 7 * float64(i)}, geom.Vec{Z: 1}, 3, 1))
		}
		m, err := geom.Mesh(context.Background(), geom.Union(rings...), geom.MeshOptions{Tolerance: 0.2})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	plain := []*geom.TriMesh{cubeAt(geom.Vec{}, 1)}
	if err := proveShape("left", chain(3), plain); err != nil {
		t.Error(err)
	}
	if err := proveShape("left", chain(2*handlesSpare+1), plain); err == nil || !strings.Contains(err.Error(), "33 holes go through it, its heads explain 32 at most") {
		t.Error(err)
	}
	if err := proveShape("left", chain(2*handlesSpare+1), []*geom.TriMesh{chain(1)}); err != nil {
		t.Errorf("with a ring for a head: %v", err)
	}
}

func TestProofOfTheWhole(t *testing.T) {
	ctx := context.Background()
	mold, _ := provedMold(t)
	left, right := volume(t, mold.Left.Rubber(), geom.Box{}), volume(t, mold.Right.Rubber(), geom.Box{})
	if _, err := mold.ProveWhole(ctx, left, right); err != nil {
		t.Error(err)
	}
	// Half a head's rubber too much.
	more := 0.5 * mold.Cavities[0].HeadVolume
	left.Lo, left.Best, left.Hi = left.Lo+more, left.Best+more, left.Hi+more
	var off *ProofError
	if _, err := mold.ProveWhole(ctx, left, right); !errors.As(err, &off) {
		t.Errorf("got %v", err)
	}
}

// A needle on a head, too thin for any printer, is left out of the frame; the proof
// says so, and fails for a thick one that is missing.
func TestProofLeavesOutWhatIsThin(t *testing.T) {
	ctx := context.Background()
	const tolerance = 0.1
	mold, heads := provedMold(t)
	ball := heads[0]
	top := 0
	height := func(i int) float64 {
		a, b, c := ball.Corners(i)
		return a.Z + b.Z + c.Z
	}
	for i := range ball.Triangles {
		if height(i) > height(top) {
			top = i
		}
	}
	a, b, c := ball.Corners(top)
	tip := a.Add(b).Add(c).Mul(1.0 / 3).Mul(1.05)
	for _, n := range []struct {
		part float64
		want string
	}{{1e-3, ""}, {0.5, "from its surface, the limit is 0.1 mm"}} {
		needled := geomtest.WithNeedle(ball, top, n.part, tip)
		head, err := geom.NewMeshSolid(needled)
		if err != nil {
			t.Fatal(err)
		}
		spec := ballSpec(1)
		spec.Cavities[0].Head = head
		with := buildOf(t, spec)
		mesh, err := geom.Mesh(ctx, mold.Left.Frame, geom.MeshOptions{Tolerance: tolerance}) // without the needle
		if err != nil {
			t.Fatal(err)
		}
		p, err := with.proveHalf(ctx, with.Left, mesh, known(rubberOf(t, with.Left)), tolerance, []*geom.TriMesh{needled}, func(string) {})
		switch {
		case n.want == "" && (err != nil || p.ThinPoints != 1 || p.HeadDeviation > tolerance):
			t.Errorf("thin: %v, %d thin points, deviation %.4f mm", err, p.ThinPoints, p.HeadDeviation)
		case n.want != "" && (err == nil || !strings.Contains(err.Error(), n.want)):
			t.Errorf("thick: want %q, got %v", n.want, err)
		}
	}
}

// The sum of the parts may differ from the block by twice what a build integrates
// to; the error says by how much.
func TestProofOfTheSum(t *testing.T) {
	ctx := context.Background()
	m := &Mold{Block: cubeSolid(10), Void: cubeSolid(5)} // 1000 and 125 mm³
	rubber := func(best float64) geom.Integral { return geom.Integral{Lo: 0, Best: best, Hi: 1e4} }
	if p, err := m.ProveWhole(ctx, rubber(400), rubber(475)); err != nil || math.Abs(p.Apart()) > 0.5 {
		t.Errorf("%+v: %v", p, err)
	}
	for _, more := range []float64{3, -3} {
		p, err := m.ProveWhole(ctx, rubber(400+more), rubber(475))
		near(t, "apart", p.Apart(), more, 0.5)
		if err == nil || figures(err.Error()) != "3.0 1000.0 1.0" { // the difference, of what, the limit
			t.Errorf("%g mm³ more: %v", more, err)
		}
	}
}

func cubeSolid(edge float64) geom.Solid { return block(0, 0, 0, edge, edge, edge) }

// Under a coat the surface is straight below a flat or round face, not at an edge.
func TestUnderACoat(t *testing.T) {
	same := func(p geom.Vec) geom.Vec { return p }
	ball, cube := &Placed{Head: geom.Ball(geom.Vec{}, 6), ToMold: same}, &Placed{Head: cubeSolid(6), ToMold: same}
	if at, ok := under(ball, geom.Vec{X: 6}, geom.Vec{X: 1}, 0.2); !ok || at.Dist(geom.Vec{X: 5.8}) > 1e-9 {
		t.Errorf("on a ball: %v, %v", at, ok)
	}
	if at, ok := under(cube, geom.Vec{X: 6, Y: 6, Z: 3}, geom.Vec{X: math.Sqrt(0.5), Y: math.Sqrt(0.5)}, 0.2); ok {
		t.Errorf("at an edge: %v", at)
	}
}

func TestOffPercent(t *testing.T) {
	near(t, "larger", HalfProof{MeshVolume: 102, SolidVolume: 100}.OffPercent(), 2, 1e-9)
	near(t, "smaller", HalfProof{MeshVolume: 99, SolidVolume: 100}.OffPercent(), -1, 1e-9)
}

// figures are the numbers with a point in a text.
func figures(s string) string {
	return strings.Join(regexp.MustCompile(`\d+\.\d+`).FindAllString(s, -1), " ")
}
