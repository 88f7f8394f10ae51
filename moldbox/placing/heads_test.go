package placing

import (
	"context"
	"math"
	"sync"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
)

// body is what a made-up head is put together from, in mm, its nose at -x, its
// back at +y.
type body struct {
	collar    bool
	sockets   int     // 0, 1 or 2
	shankBore bool    // from the tail to under the eye
	legBore   float64 // degrees between leg and shank; 0: none
	chin      bool    // a ball under the chin, so that back and belly differ
	lump      float64 // radius of a lump on the left flank
	hook      bool    // with its hook's body in the file
	square    bool    // as wide as high
}

const bodyX, bodyY, bodyZ = 11.0, 6.0, 4.5

// legAt is where the leg's axis meets the shank's.
var legAt = geom.Vec{X: -4}

// leg is the way of the leg from there.
func (b body) leg() geom.Vec {
	s, c := math.Sincos(b.legBore * math.Pi / 180)
	return geom.Vec{X: c, Y: s}
}

// fineBall is a ball of radius 1, nil if it cannot be meshed.
var fineBall = sync.OnceValue(func() *geom.TriMesh {
	m, _ := geom.Mesh(context.Background(), geom.Ball(geom.Vec{}, 1), geom.MeshOptions{Tolerance: 0.003})
	return m
})

func (b body) mesh(t testing.TB) *geom.TriMesh {
	t.Helper()
	ctx := context.Background()
	ball := fineBall()
	if ball == nil {
		t.Fatal("no ball")
	}
	wide := bodyZ
	if b.square {
		wide = bodyY
	}
	egg, err := geom.NewMeshSolid(ball.Transform(func(v geom.Vec) geom.Vec { return geom.Vec{X: bodyX * v.X, Y: bodyY * v.Y, Z: wide * v.Z} }, false))
	if err != nil {
		t.Fatal(err)
	}
	head := geom.Solid(egg)
	if b.collar {
		head = geom.Union(head, geom.Frustum(geom.Vec{}, geom.Vec{X: bodyX + 4}, 2.2, 2.2))
	}
	if b.chin {
		head = geom.SmoothUnion(1, head, geom.Ball(geom.Vec{X: -3, Y: -4}, 3.6))
	}
	if b.lump > 0 {
		head = geom.Union(head, geom.Ball(geom.Vec{X: 1, Z: wide}, b.lump))
	}
	for i := range b.sockets {
		side := float64(1 - 2*i)
		head = geom.Subtract(head, geom.Ball(geom.Vec{X: -5.5, Y: 2.2, Z: side * (wide*0.75 + 1)}, 2))
	}
	if b.shankBore {
		head = geom.Subtract(head, geom.Frustum(legAt, geom.Vec{X: 30}, 0.6, 0.6))
	}
	if b.legBore > 0 {
		head = geom.Subtract(head, geom.Capsule(legAt, legAt.Add(b.leg().Mul(20)), 0.6))
	}
	mesh, err := geom.Mesh(ctx, head, geom.MeshOptions{Tolerance: 0.04})
	if err != nil {
		t.Fatal(err)
	}
	if b.hook {
		wire, err := geom.Mesh(ctx, geom.Wire([]geom.Vec{legAt.Add(geom.Vec{Y: 9}), legAt, {X: 24}, {X: 27, Y: 5}, {X: 20, Y: 9}}, 0.5), geom.MeshOptions{Tolerance: 0.02})
		if err != nil {
			t.Fatal(err)
		}
		mesh = both(mesh, wire)
	}
	return mesh
}

func both(a, b *geom.TriMesh) *geom.TriMesh {
	m := &geom.TriMesh{Vertices: append(append([]geom.Vec{}, a.Vertices...), b.Vertices...), Triangles: append([][3]int32{}, a.Triangles...)}
	n := int32(len(a.Vertices))
	for _, t := range b.Triangles {
		m.Triangles = append(m.Triangles, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return m
}

// headCase is a head in its file.
type headCase struct {
	name string
	mesh func(t testing.TB) *geom.TriMesh
	unit string
	pose geom.Transform // from nose -x, back +y to the file's, in mm

	leg, metal  float64  // hints
	eye         geom.Vec // where it ought to be, as drawn; zero when any will do
	anyMirror   bool     // round about its axis
	asymmetric  bool     // mirrors in no plane
	backUnknown bool     // back and belly are alike: either is right
	long        bool     // only in the long variant: like another head, or another pose of one
}

func minnow(testing.TB) *geom.TriMesh { return minnowOnce() }

var minnowOnce = sync.OnceValue(func() *geom.TriMesh { return heads.Minnow(16000) })

func ball(testing.TB) *geom.TriMesh { return heads.Ball(10.2, 20) }

func turned(x, y, z, degrees float64, move geom.Vec) geom.Transform {
	return geom.Rotate(geom.Vec{X: x, Y: y, Z: z}, degrees*math.Pi/180).Then(geom.Move(move))
}

func headCases() []headCase {
	same := geom.Identity()
	away := geom.Vec{X: 31, Y: -14, Z: 8}
	made := func(b body) func(testing.TB) *geom.TriMesh { return b.mesh }
	bores := body{collar: true, shankBore: true, legBore: 90}
	return []headCase{
		{name: "ball", mesh: ball, unit: "mm", pose: same, anyMirror: true, backUnknown: true},
		{name: "minnow", mesh: minnow, unit: "mm", pose: same},
		{name: "minnow, rolled 7 degrees", long: true, mesh: minnow, unit: "mm", pose: turned(1, 0, 0, 7, geom.Vec{})},
		{name: "minnow, pitched 7 degrees, offset", long: true, mesh: minnow, unit: "mm", pose: turned(0, 0, 1, 7, away)},
		{name: "minnow, any pose", mesh: minnow, unit: "mm", pose: turned(1, -2, 0.5, 128, away)},
		{name: "minnow in inches, nose up", mesh: minnow, unit: "in", pose: turned(0, 1, 0, 90, away)},
		{name: "minnow in metres, on its side", long: true, mesh: minnow, unit: "m", pose: turned(1, 0, 0, 90, away)},
		{name: "minnow, upside down", long: true, mesh: minnow, unit: "mm", pose: turned(1, 0, 0, 180, geom.Vec{})},
		{name: "two eye sockets", mesh: made(body{collar: true, sockets: 2}), unit: "mm", pose: same},
		{name: "one eye socket, any pose", mesh: made(body{collar: true, sockets: 1, chin: true}), unit: "mm", pose: turned(2, 1, -1, 200, away)},
		{name: "bores at 90 degrees, any pose", mesh: made(bores), unit: "mm", pose: turned(1, 1, 1, 77, away), leg: 9, eye: legAt.Add(geom.Vec{Y: 9})},
		{name: "bores at 60 degrees, upside down", mesh: made(body{collar: true, shankBore: true, legBore: 120}), unit: "mm",
			pose: turned(1, 0, 0, 180, geom.Vec{}), leg: 10, eye: legAt.Add(geom.Vec{X: -5, Y: 5 * math.Sqrt(3)})},
		{name: "bores in inches, rolled 7 degrees", long: true, mesh: made(bores), unit: "in", pose: turned(1, 0, 0, 7, away), leg: 9, eye: legAt.Add(geom.Vec{Y: 9})},
		{name: "bores, no collar", mesh: made(body{shankBore: true, legBore: 90, chin: true}), unit: "mm", pose: turned(0, 1, 2, 33, away), leg: 9, eye: legAt.Add(geom.Vec{Y: 9})},
		{name: "shank's bore alone", long: true, mesh: made(body{shankBore: true, sockets: 2}), unit: "mm", pose: turned(0, 0, 1, 90, away)},
		{name: "sockets alone, any pose", mesh: made(body{sockets: 2, chin: true}), unit: "mm", pose: turned(3, -1, 1, 290, away)},
		{name: "an egg", long: true, mesh: made(body{}), unit: "mm", pose: turned(1, 0, 1, 50, geom.Vec{}), backUnknown: true},
		{name: "a lump on one flank", mesh: made(body{collar: true, sockets: 2, lump: 1.5}), unit: "mm", pose: turned(0, 1, 0, 15, away)},
		{name: "mirrors nowhere", mesh: twisted, unit: "mm", pose: turned(0, 1, 1, 40, away), asymmetric: true, backUnknown: true},
		{name: "ball in metres, any pose", long: true, mesh: ball, unit: "m", pose: turned(1, 3, -1, 61, away), anyMirror: true, backUnknown: true},
		{name: "with its hook in the file", mesh: made(body{collar: true, sockets: 2, hook: true}), unit: "mm", pose: turned(1, 2, 3, 100, away)},
		{name: "belly heavier than back, collar alone", long: true, mesh: made(body{collar: true, chin: true}), unit: "mm", pose: turned(1, 0, 0, 180, away)},
		{name: "as wide as high, bores", long: true, mesh: made(body{collar: true, shankBore: true, legBore: 90, square: true}), unit: "mm", pose: turned(0, 1, 0, 180, away), leg: 9, eye: legAt.Add(geom.Vec{Y: 9})},
		{name: "as wide as high, bores, any pose", mesh: made(body{collar: true, shankBore: true, legBore: 90, square: true}), unit: "mm", pose: turned(2, 1, -1, 155, away), leg: 9, eye: legAt.Add(geom.Vec{Y: 9})},
		{name: "ball in inches, its weight known", mesh: ball, unit: "in", pose: same, metal: 700, anyMirror: true, backUnknown: true},
	}
}

// twisted mirrors in no plane.
func twisted(t testing.TB) *geom.TriMesh {
	return body{collar: true, sockets: 2, chin: true}.mesh(t).Transform(func(v geom.Vec) geom.Vec {
		s, c := math.Sincos(0.12 * v.X)
		return geom.Vec{X: v.X, Y: c*v.Y - s*v.Z, Z: s*v.Y + c*v.Z}
	}, false)
}
