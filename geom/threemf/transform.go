package threemf

import (
	"fmt"
	"math"
	"strings"

	"halfpour/geom"
)

// transform is an affine map as the specification writes it: four rows of
// three, of which the first three are the images of the axes and the last is
// the move; a point is a row vector before it.
type transform [4]geom.Vec

var identity = transform{{X: 1}, {Y: 1}, {Z: 1}, {}}

func (m *model) transform(text string) (transform, error) {
	words := strings.Fields(text)
	if len(words) == 0 {
		return identity, nil
	}
	if len(words) != 12 {
		return identity, m.fail(RuleNumber, "a transform has %d numbers, expected 12", len(words))
	}
	var t transform
	for i := range t {
		for k, v := range [3]*float64{&t[i].X, &t[i].Y, &t[i].Z} {
			var err error
			if *v, err = m.number(words[3*i+k]); err != nil {
				return identity, err
			}
		}
	}
	return t, nil
}

func (t transform) apply(p geom.Vec) geom.Vec { return t.turn(p).Add(t[3]) }

// turn applies all but the move.
func (t transform) turn(p geom.Vec) geom.Vec {
	return t[0].Mul(p.X).Add(t[1].Mul(p.Y)).Add(t[2].Mul(p.Z))
}

// then returns the map that does t first and u after it.
func (t transform) then(u transform) transform {
	return transform{u.turn(t[0]), u.turn(t[1]), u.turn(t[2]), u.apply(t[3])}
}

func (t transform) mirrors() bool { return t[0].Dot(t[1].Cross(t[2])) < 0 }

// onlyMoves reports whether t leaves shape and size alone.
func (t transform) onlyMoves() bool { return [3]geom.Vec(t[:3]) == [3]geom.Vec(identity[:3]) }

// Items may place one object many times, and components may hold components,
// each twice the one before: a few lines can stand for any number of triangles.
// mostCopies bounds what they come to, for each vertex and triangle that the
// file spells out; spareCopies is allowed to any file; mostLevels bounds the
// recursion.
const (
	mostCopies  = 8
	spareCopies = 1 << 20
	mostLevels  = 32
)

// pack puts the plate's items together.
func (m *model) pack() (Package, error) {
	pkg := Package{Title: m.title}
	b := packer{model: m, sizes: map[*object]int{}, meshes: map[*object]*geom.TriMesh{}}
	b.most = min(mostCopies*m.seen+m.spare, math.MaxInt32)
	b.left = b.most
	for _, item := range m.items {
		if err := m.ctx.Err(); err != nil {
			return Package{}, err
		}
		if item.object.kind != "" && item.object.kind != "model" {
			continue
		}
		o, err := b.place(item)
		if err != nil {
			return Package{}, err
		}
		if len(o.Mesh.Triangles) > 0 {
			pkg.Objects = append(pkg.Objects, o)
		}
	}
	if len(pkg.Objects) == 0 {
		return Package{}, &FormatError{Part: m.part.name, Rule: RuleNoTriangles, Detail: "there is no object with triangles on the build plate"}
	}
	return pkg, nil
}

type packer struct {
	model  *model
	most   int                       // vertices and triangles that may be made
	left   int                       // of them
	sizes  map[*object]int           // vertices and triangles with all components
	meshes map[*object]*geom.TriMesh // in mm, as they stand
}

func (b *packer) place(item component) (Object, error) {
	o := Object{Name: item.object.name}
	if err := b.spend(b.size(item.object)); err != nil {
		return o, err
	}
	base := b.meshes[item.object]
	if base == nil {
		base = &geom.TriMesh{}
		b.gather(base, item.object, identity)
		if err := finite(b.model, base); err != nil {
			return o, err
		}
		b.meshes[item.object] = base
	}
	scale := b.model.scale
	if item.place.onlyMoves() {
		o.Mesh, o.Offset = base, item.place[3].Mul(scale)
		return o, nil
	}
	t := item.place
	t[3] = t[3].Mul(scale)
	o.Mesh = base.Transform(t.apply, t.mirrors())
	return o, finite(b.model, o.Mesh)
}

func (b *packer) spend(n int) error {
	if b.left -= n; b.left < 0 {
		return &FormatError{Part: b.model.part.name, Rule: RuleSize, Detail: fmt.Sprintf(
			"items and components repeat what the file holds, %d vertices and triangles, to more than %d", b.model.seen, b.most)}
	}
	return nil
}

// size counts a component as one, so that empty ones cost something too, and
// stops counting where spend will refuse.
func (b *packer) size(o *object) int {
	if n, ok := b.sizes[o]; ok {
		return n
	}
	const enough = 1 << 40
	n := len(o.vertices) + len(o.triangles)
	for _, c := range o.components {
		n = min(n+1+b.size(c.object), enough)
	}
	b.sizes[o] = n
	return n
}

// gather appends o under t to m.
func (b *packer) gather(m *geom.TriMesh, o *object, t transform) {
	first, mirrored := int32(len(m.Vertices)), t.mirrors()
	for _, v := range o.vertices {
		m.Vertices = append(m.Vertices, t.apply(v).Mul(b.model.scale))
	}
	for _, c := range o.triangles {
		if mirrored {
			c[1], c[2] = c[2], c[1]
		}
		m.Triangles = append(m.Triangles, [3]int32{first + c[0], first + c[1], first + c[2]})
	}
	for _, c := range o.components {
		b.gather(m, c.object, c.place.then(t))
	}
}

// finite guards against transforms that multiply to infinity.
func finite(m *model, mesh *geom.TriMesh) error {
	for _, v := range mesh.Vertices {
		if !v.IsFinite() {
			return &FormatError{Part: m.part.name, Rule: RuleNumber, Detail: "a transform moves a corner to infinity"}
		}
	}
	return nil
}
