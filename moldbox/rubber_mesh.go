package moldbox

import (
	"errors"

	"halfpour/geom"
)

// RubberMesh is the surface of the half's rubber, made of the surface of its frame:
// where rubber lies against plastic both have the same triangles, the other way
// round, and a lid closes them at the fill line. It is as true as the frame's
// mesh and costs a hundredth of meshing Rubber. frame must be a closed mesh of
// h.Frame in print coordinates, and so is what comes out. A frame that is
// printed for a seal coat is smaller than its rubber by the coat, and this mesh
// with it: mesh Rubber itself then. A mesh without an inside below the fill line
// is an error.
func (h Half) RubberMesh(frame *geom.TriMesh) (*geom.TriMesh, error) {
	c := clipper{frame: frame, level: h.FillHeight, cut: map[[2]int32]int32{}}
	c.out.Vertices = append(c.out.Vertices, frame.Vertices...)
	c.out.Triangles = make([][3]int32, 0, len(frame.Triangles))
	for _, t := range frame.Triangles {
		c.clip(t)
	}
	c.keepInside()
	if len(c.out.Triangles) == 0 {
		return nil, errors.New("rubber: the frame's mesh has no inside below the fill line")
	}
	c.out.CloseLevel(c.level)
	return withoutSpare(&c.out), nil
}

// clipper takes the part of a frame's mesh below a level.
type clipper struct {
	frame *geom.TriMesh
	level float64
	cut   map[[2]int32]int32 // from edges, the lower end first, to the points where they pass the level
	out   geom.TriMesh
}

// onLevel is how near the level a corner of the frame counts as on it, mm.
const onLevel = 1e-4

func (c *clipper) low(v int32) bool { return c.frame.Vertices[v].Z < c.level-onLevel }

// crossing is the vertex where the edge from a low to a high corner passes the
// level, the same for both its triangles.
func (c *clipper) crossing(low, high int32) int32 {
	if c.frame.Vertices[high].Z <= c.level+onLevel {
		c.out.Vertices[high].Z = c.level
		return high
	}
	key := [2]int32{low, high}
	if v, ok := c.cut[key]; ok {
		return v
	}
	a, b := c.frame.Vertices[low], c.frame.Vertices[high]
	p := a.Lerp(b, (c.level-a.Z)/(b.Z-a.Z))
	p.Z = c.level
	v := int32(len(c.out.Vertices))
	c.out.Vertices = append(c.out.Vertices, p)
	c.cut[key] = v
	return v
}

// clip adds what of triangle t is below the level.
func (c *clipper) clip(t [3]int32) {
	for ; ; t[0], t[1], t[2] = t[1], t[2], t[0] {
		switch a, b, d := c.low(t[0]), c.low(t[1]), c.low(t[2]); {
		case a && b && d:
			c.out.Triangles = append(c.out.Triangles, t)
			return
		case !a && !b && !d:
			return
		case a && !b && !d:
			c.out.Triangles = append(c.out.Triangles, [3]int32{t[0], c.crossing(t[0], t[1]), c.crossing(t[0], t[2])})
			return
		case a && b && !d:
			p, q := c.crossing(t[1], t[2]), c.crossing(t[0], t[2])
			c.out.Triangles = append(c.out.Triangles, [3]int32{t[0], t[1], p})
			if p != q {
				c.out.Triangles = append(c.out.Triangles, [3]int32{t[0], p, q})
			}
			return
		}
	}
}

// keepInside leaves the pieces that look at the rubber, turned to look out of
// it. With the level closed by a lid, which adds nothing to the sum over
// a·(b×c) about a point of it, a piece round rubber has a volume below zero.
func (c *clipper) keepInside() {
	pieces := c.out.Pieces()
	volume := make([]float64, len(c.out.Vertices)) // by root
	o := geom.Vec{Z: c.level}
	for i := range c.out.Triangles {
		p, q, r := c.out.Corners(i)
		volume[pieces.Root(c.out.Triangles[i][0])] += p.Sub(o).Dot(q.Sub(o).Cross(r.Sub(o)))
	}
	inside := c.out.Triangles[:0]
	for _, t := range c.out.Triangles {
		if volume[pieces.Root(t[0])] < 0 {
			inside = append(inside, [3]int32{t[0], t[2], t[1]})
		}
	}
	c.out.Triangles = inside
}

// withoutSpare is the mesh without the vertices that no triangle has.
func withoutSpare(m *geom.TriMesh) *geom.TriMesh {
	place, used := make([]int32, len(m.Vertices)), int32(0)
	triangles := make([][3]int32, len(m.Triangles))
	for i, t := range m.Triangles {
		for k, v := range t {
			if place[v] == 0 {
				used++
				place[v] = used
			}
			triangles[i][k] = place[v] - 1
		}
	}
	vertices := make([]geom.Vec, used)
	for v, at := range place {
		if at > 0 {
			vertices[at-1] = m.Vertices[v]
		}
	}
	return &geom.TriMesh{Vertices: vertices, Triangles: triangles}
}
