package geom

import (
	"container/list"
	"math/rand/v2"
	"testing"
)

// What is moved is alike by its way and by no other, whatever it is made of.
func TestAlikeIsWhatIsMoved(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 8))
	mesh := mustSolid(t, icosphere(2, 1))
	other := mustSolid(t, icosphere(2, 1))
	turn := Rotate(Vec{X: 1, Y: 2, Z: 3}, 1)
	solids := map[string]Solid{
		"ball": Ball(Vec{1, 2, 3}, 2), "block": Block(BoxOf(Vec{}, Vec{1, 2, 3})), "frustum": Frustum(Vec{}, Vec{1, 2, 3}, 1, 2),
		"capsule": Capsule(Vec{}, Vec{1, 2, 3}, 1), "torus": Torus(Vec{}, Vec{0, 1, 1}, 3, 1), "tilted plane": HalfSpace(Vec{1, 1, 1}, 2),
		"mesh": mesh, "turned mesh": turn.Solid(mesh), "union": Union(Ball(Vec{}, 1), mesh), "cut": Subtract(turn.Solid(mesh), Ball(Vec{}, 1)).(*intersection).children[1],
		"smooth": SmoothUnion(0.5, Ball(Vec{}, 2), Ball(Vec{X: 2}, 1)), "grown": Offset(mesh, 0.5), "drafted": DraftedBlock{Base: BoxOf(Vec{}, Vec{5, 6, 7}), Corner: 1, Draft: 0.1}.Solid(),
	}
	for name, s := range solids {
		by := Vec{X: 20 * rng.Float64(), Y: 20 * rng.Float64(), Z: 20 * rng.Float64()}
		moved := Move(by).Solid(s)
		switch {
		case !alike(s, s, Vec{}):
			t.Errorf("%s is not alike itself", name)
		case name != "mesh" && !alike(s, moved, by) || name == "mesh" && !alike(Move(Vec{X: 1}).Solid(s), moved, by.Sub(Vec{X: 1})):
			t.Errorf("%s is not alike when moved", name)
		case alike(s, moved, by.Add(Vec{X: 1e-6})):
			t.Errorf("%s is alike elsewhere", name)
		}
		for otherName, o := range solids {
			if otherName != name && alike(o, moved, by) {
				t.Errorf("%s and %s are alike", name, otherName)
			}
		}
	}
	for _, c := range [][2]Solid{
		{turn.Solid(mesh), turn.Solid(other)}, {Ball(Vec{}, 1), Ball(Vec{}, 1.001)}, {turn.Solid(mesh), Rotate(Vec{X: 1}, 1).Solid(mesh)},
		{turn.Solid(mesh), turn.Then(Scale(1.01)).Solid(mesh)}, {&complement{Ball(Vec{}, 1)}, Ball(Vec{}, 1)}, {Offset(mesh, 0.5), Offset(mesh, 0.6)},
		{SmoothUnion(0.5, Ball(Vec{}, 2), Ball(Vec{X: 2}, 1)), SmoothUnion(0.6, Ball(Vec{}, 2), Ball(Vec{X: 2}, 1))},
		{Union(Ball(Vec{}, 1), mesh), Union(Ball(Vec{}, 1), mesh, Ball(Vec{X: 9}, 1))},
	} {
		if alike(c[0], c[1], Vec{}) {
			t.Errorf("%#v and %#v are alike", c[0], c[1])
		}
	}
	// What others make may run in circles: it is alike itself alone.
	one, two := newCircle(), newCircle()
	if !alike(turn.Solid(one), Move(Vec{X: 1}).Solid(turn.Solid(one)), Vec{X: 1}) || alike(turn.Solid(one), turn.Solid(two), Vec{}) {
		t.Error("a solid of another make")
	}
	// Which facets a mesh is pruned to does not count, nor do boxes of combinations.
	a, _ := PruneBySign(turn.Solid(mesh), BoxOf(Vec{X: 1.5}, Vec{2.5, 0.5, 0.5}))
	b, _ := PruneBySign(turn.Solid(mesh), BoxOf(Vec{X: 1.5}, Vec{2.5, 0.4, 0.4}))
	if !alike(a, b, Vec{}) || a == b {
		t.Errorf("%T and %T are not alike", a, b)
	}
}

// circle is a solid with a part that is itself.
type circle struct {
	Solid
	list heldList
}

type heldList = list.List

func newCircle() *circle {
	c := &circle{Solid: Ball(Vec{}, 1)}
	c.list.PushBack(c)
	return c
}
