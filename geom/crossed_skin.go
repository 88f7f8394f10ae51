package geom

import (
	"context"
	"slices"
)

// skin returns the surface that a mesh which crosses itself has as a solid: what
// winds round nothing is on one side of it, and what winds round something on the
// other. It is the facets, cut where others pass through them, without the walls
// inside. It has a tree and sums alone. false means that it was not found: facets cross
// all over.
func (s *meshBody) skin() (*meshBody, bool) {
	s.skinOnce.Do(func() { s.skinBody = s.findSkin() })
	return s.skinBody, s.skinBody != nil
}

const (
	mostSkinCrossings = 1 << 16
	mostSkinParts     = 64    // of a facet, for each that it meets
	besideSkin        = 1e-10 // mm from a facet, where its sides are told
	openSkin          = 1e-9  // of its area, that may be amiss where parts are too slender to tell
)

func (s *meshBody) findSkin() *meshBody {
	crossings, err := SelfCrossings(context.Background(), s.mesh, mostSkinCrossings)
	if err != nil || len(crossings) == mostSkinCrossings {
		return nil
	}
	k := skinner{body: s, side: make([]skinSide, len(s.mesh.Triangles)), skin: &TriMesh{},
		through: map[int32][]int32{}, upon: map[int32][]int32{}}
	for _, c := range crossings {
		p, q := s.facet(int32(c.A)), s.facet(int32(c.B))
		list := k.through
		if sides, _ := sidesOf(p, q); sides == [3]int{} {
			list = k.upon
		}
		list[int32(c.A)] = append(list[int32(c.A)], int32(c.B))
		list[int32(c.B)] = append(list[int32(c.B)], int32(c.A))
	}
	for i := range s.mesh.Triangles {
		if !k.facet(int32(i)) {
			return nil
		}
	}
	// The area vectors of a closed surface add up to nothing.
	var sum surfaceSum
	for i := range k.skin.Triangles {
		p, q, r := k.skin.Corners(i)
		sum.addTriangle(&triangle{p, q, r})
	}
	if !(3*sum.way.Norm() < openSkin*sum.area) {
		return nil
	}
	return &meshBody{mesh: k.skin, box: s.box, tree: newBVH(k.skin)}
}

func (s *meshBody) facet(i int32) (p [3]Vec) {
	p[0], p[1], p[2] = s.mesh.Corners(int(i))
	return p
}

// skinSide says whether a facet is skin and which way it faces.
type skinSide int8

const (
	unknownSide skinSide = iota
	buried               // or between two rooms of nothing
	outward
	inward
)

type skinner struct {
	body          *meshBody
	through, upon map[int32][]int32 // by facet, those that it meets: across it, and in its plane
	side          []skinSide        // of facets that meet no others
	skin          *TriMesh
}

func (k *skinner) alone(i int32) bool { return len(k.through[i])+len(k.upon[i]) == 0 }

// facet adds what of a facet is skin; it returns false where there are too many parts.
func (k *skinner) facet(i int32) bool {
	p := k.body.facet(i)
	if _, ok := seenAlong(p[0], p[1], p[2]); !ok {
		return true
	}
	if k.alone(i) {
		if k.side[i] == unknownSide {
			k.spread(i, k.sideOf(p[:]))
		}
		k.add(p[:], k.side[i])
		return true
	}
	parts, most := [][]Vec{p[:]}, mostSkinParts*(len(k.through[i])+len(k.upon[i]))
	cut := func(q [3]Vec, n Vec) {
		if len(parts) > most {
			return
		}
		var next [][]Vec
		for _, part := range parts {
			if BoxOf(part...).Intersect(BoxOf(q[:]...)).IsEmpty() {
				next = append(next, part)
			} else {
				next = append(next, cutConvex(part, q[0], n)...)
			}
		}
		parts = next
	}
	for _, j := range k.through[i] {
		q := k.body.facet(j)
		cut(q, q[1].Sub(q[0]).Cross(q[2].Sub(q[0])).Unit())
	}
	for _, j := range k.upon[i] {
		q := k.body.facet(j)
		for range 3 {
			cut(q, outOf(q))
			q = [3]Vec{q[1], q[2], q[0]}
		}
	}
	if len(parts) > most {
		return false
	}
	for _, part := range parts {
		if !k.laidBefore(i, part) {
			k.add(part, k.sideOf(part))
		}
	}
	return true
}

// laidBefore reports whether a facet that comes before lies in a part's place too.
func (k *skinner) laidBefore(i int32, part []Vec) bool {
	at := middleOf(part)
	return slices.ContainsFunc(k.upon[i], func(j int32) bool {
		q, in := k.body.facet(j), j < i
		for range 3 {
			in = in && outOf(q).Dot(at.Sub(q[0])) < 0
			q = [3]Vec{q[1], q[2], q[0]}
		}
		return in
	})
}

// spread gives a facet and those that hang together with it, none of them met by
// others, one side: nothing can pass between them.
func (k *skinner) spread(i int32, side skinSide) {
	k.side[i] = side
	for todo := []int32{i}; len(todo) > 0; {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, j := range k.body.edges.across[at] {
			if k.side[j] != unknownSide || !k.alone(j) {
				continue
			}
			p := k.body.facet(j)
			if _, ok := seenAlong(p[0], p[1], p[2]); ok {
				k.side[j] = side
				todo = append(todo, j)
			}
		}
	}
}

// sideOf tells the sides of a part of a facet beside its middle.
func (k *skinner) sideOf(part []Vec) skinSide {
	var normal Vec
	for i := 2; i < len(part); i++ {
		normal = normal.Add(part[i-1].Sub(part[0]).Cross(part[i].Sub(part[0])))
	}
	middle, off := middleOf(part), normal.Unit().Mul(besideSkin)
	front, back := k.body.rounds(middle.Add(off)) > 0, k.body.rounds(middle.Sub(off)) > 0
	switch {
	case front == back:
		return buried
	case back:
		return outward
	}
	return inward
}

// add adds a convex part of a facet as triangles.
func (k *skinner) add(part []Vec, side skinSide) {
	if side != outward && side != inward {
		return
	}
	first := int32(len(k.skin.Vertices))
	k.skin.Vertices = append(k.skin.Vertices, part...)
	for i := first + 2; i < first+int32(len(part)); i++ {
		t := [3]int32{first, i - 1, i}
		if side == inward {
			t[1], t[2] = t[2], t[1]
		}
		k.skin.Triangles = append(k.skin.Triangles, t)
	}
}
