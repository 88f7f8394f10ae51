package geom_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"halfpour/geom"
)

func TestTransformPoints(t *testing.T) {
	quarter := geom.Rotate(geom.Vec{Z: 1}, math.Pi/2)
	for _, c := range []struct {
		name string
		p    geom.Transform
		want geom.Vec
	}{
		{"identity", geom.Identity(), geom.Vec{X: 1, Y: 2, Z: 3}},
		{"move", geom.Move(geom.Vec{X: 1, Y: 1, Z: 1}), geom.Vec{X: 2, Y: 3, Z: 4}},
		{"quarter turn", quarter, geom.Vec{X: -2, Y: 1, Z: 3}},
		{"half turn", geom.Rotate(geom.Vec{Y: 2}, math.Pi), geom.Vec{X: -1, Y: 2, Z: -3}},
		{"turn back", geom.Rotate(geom.Vec{X: 1}, -math.Pi/2), geom.Vec{X: 1, Y: 3, Z: -2}},
		{"scale", geom.Scale(2), geom.Vec{X: 2, Y: 4, Z: 6}},
		{"scale by nothing", geom.Scale(0), geom.Vec{X: 1, Y: 2, Z: 3}},
		{"mirror x", geom.MirrorX(), geom.Vec{X: -1, Y: 2, Z: 3}},
		{"mirror y", geom.MirrorY(), geom.Vec{X: 1, Y: -2, Z: 3}},
		{"mirror z", geom.MirrorZ(), geom.Vec{X: 1, Y: 2, Z: -3}},
		{"axes", geom.FromAxes(geom.Vec{Y: 1}, geom.Vec{Z: 1}, geom.Vec{X: 1}), geom.Vec{X: 3, Y: 1, Z: 2}},
		{"left-handed axes", geom.FromAxes(geom.Vec{Y: 1}, geom.Vec{X: 1}, geom.Vec{Z: 1}), geom.Vec{X: 2, Y: 1, Z: 3}},
		{"axes put right", geom.FromAxes(geom.Vec{X: 2}, geom.Vec{X: 1, Y: 1}, geom.Vec{Z: 3}), geom.Vec{X: 1, Y: 2, Z: 3}},
		{"flat axes", geom.FromAxes(geom.Vec{X: 1}, geom.Vec{X: 1}, geom.Vec{Z: 1}), geom.Vec{X: 1, Y: 2, Z: 3}},
		{"turn, then move", quarter.Then(geom.Move(geom.Vec{X: 10})), geom.Vec{X: 8, Y: 1, Z: 3}},
		{"move, then turn", geom.Move(geom.Vec{X: 10}).Then(quarter), geom.Vec{X: -2, Y: 11, Z: 3}},
	} {
		if got := c.p.Point(geom.Vec{X: 1, Y: 2, Z: 3}); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if geom.MirrorY().Mirrors() != true || quarter.Mirrors() || !geom.MirrorX().Then(quarter).Mirrors() {
		t.Error("mirrors are not told from turns")
	}
	if k := geom.Scale(2).Then(geom.Scale(3)).Factor(); k != 6 {
		t.Errorf("factor %v, want 6", k)
	}
}

// A turn that takes axes to axes leaves a block a block, of exact value; any
// other only carries the point back.
func TestBlockStaysABlock(t *testing.T) {
	b := geom.Box{Min: geom.Vec{X: 1, Y: 2, Z: 3}, Max: geom.Vec{X: 4, Y: 6, Z: 8}}
	for _, c := range []struct {
		name string
		p    geom.Transform
		want bool
	}{
		{"move", geom.Move(geom.Vec{X: 5}), true},
		{"scale", geom.Scale(3), true},
		{"mirror", geom.MirrorX(), true},
		{"x to y", geom.FromAxes(geom.Vec{Y: 1}, geom.Vec{X: -1}, geom.Vec{Z: 1}), true},
		{"x to z", geom.FromAxes(geom.Vec{Z: 1}, geom.Vec{Y: 1}, geom.Vec{X: -1}), true},
		{"round", geom.FromAxes(geom.Vec{Y: 1}, geom.Vec{Z: 1}, geom.Vec{X: 1}), true},
		{"about z", geom.Rotate(geom.Vec{Z: 1}, 0.1), false},
		{"about x", geom.Rotate(geom.Vec{X: 1}, 0.1), false},
		{"about y", geom.Rotate(geom.Vec{Y: 1}, 0.1), false},
	} {
		same := reflect.DeepEqual(c.p.Solid(geom.Block(b)), geom.Block(c.p.Box(b)))
		if same != c.want {
			t.Errorf("%s: a block %v, want %v", c.name, same, c.want)
		}
	}
}

func TestTransformInverseAndBox(t *testing.T) {
	const seed = 46
	rng := rand.New(rand.NewPCG(seed, 0))
	for range 300 {
		p := randomTransform(rng)
		v := randomVec(rng, 10)
		if d := p.Inverse().Point(p.Point(v)).Dist(v); d > 1e-13*100 {
			t.Fatalf("seed %d: there and back is %v off", seed, d)
		}
		b := geom.BoxOf(randomVec(rng, 5), randomVec(rng, 5))
		want := geom.EmptyBox()
		for i := range 8 {
			want = want.Include(p.Point(b.Corner(i)))
		}
		got := p.Box(b)
		if got.Min.Dist(want.Min)+got.Max.Dist(want.Max) > 1e-12 {
			t.Fatalf("seed %d: box %v, corners say %v", seed, got, want)
		}
	}
	if !geom.Move(geom.Vec{X: 1}).Box(geom.EmptyBox()).IsEmpty() {
		t.Error("the image of an empty box is not empty")
	}
	half := geom.Rotate(geom.Vec{X: 1}, math.Pi/2).Box(geom.HalfSpace(geom.Vec{Y: 1}, 2).BoundingBox())
	if half.Max.Z != 2 || !math.IsInf(half.Min.Z, -1) || !math.IsInf(half.Max.X, 1) {
		t.Errorf("image of an infinite box: %v", half)
	}
}

// Whatever a shape does to place itself, the value is that of the original.
func TestPlacedValues(t *testing.T) {
	const seed = 47
	rng := rand.New(rand.NewPCG(seed, 0))
	for i := range 400 {
		s := families[i%len(families)].draw(rng)
		if i%3 == 0 {
			s = randomTree(rng, 4, 1)
		}
		p, q := randomTransform(rng), randomTransform(rng)
		image := q.Solid(p.Solid(s))
		both := p.Then(q)
		for range 20 {
			at := randomVec(rng, 12)
			got, want := image.Evaluate(at), both.Factor()*s.Evaluate(both.Inverse().Point(at))
			if got != want && !(math.Abs(got-want) < 1e-11) {
				t.Fatalf("seed %d, solid %d: %v at %v, original %v", seed, i, got, at, want)
			}
		}
	}
	if geom.Identity().Solid(nil) != nil || geom.Move(geom.Vec{X: 1}).Solid(nil) != nil {
		t.Error("the image of nil is not nil")
	}
}
