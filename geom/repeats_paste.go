package geom

import (
	"context"
	"math"
	"slices"

	"halfpour/geom/parallel"
)

// thinned is what is left of what is sampled.
type thinned struct {
	*TriMesh
	facet  []int32 // by triangle: of which facet it is a piece, -1 for none
	corner []int32 // by vertex: 1 + its place among the corners of all facets, 0 for none
	group  []int16 // by triangle, as in surface

	seams []map[int32]int32 // by copy: vertices of its home's seam to its own
}

// part cuts homes off along their seams, so that these stay as they are when each side is
// thinned. It returns errUnlike where a copy's seam is not that of its home.
func (k *surface) part() error {
	if k.repeats == nil {
		return nil
	}
	k.mended = map[int32]int32{}
	m := k.sampled
	for n, g := range k.repeats.groups {
		for _, c := range g.copies {
			there, ok := c.match(m.Vertices)
			if !ok {
				return errUnlike
			}
			k.there, k.ways = append(k.there, there), append(k.ways, c.by)
		}
		side := map[int32]int32{}
		for _, l := range g.seam {
			if _, done := side[l.from]; !done {
				v := int32(len(m.Vertices))
				m.Vertices, k.corner = append(m.Vertices, m.Vertices[l.from]), append(k.corner, 0)
				side[l.from], k.mended[v] = v, l.from
			}
		}
		for i := range m.Triangles {
			if k.group[i] != int16(n+1) {
				continue
			}
			for j, v := range m.Triangles[i] {
				if w, onSeam := side[v]; onSeam {
					m.Triangles[i][j] = w
				}
			}
		}
	}
	return nil
}

// openEnds lists the vertices where what is sampled ends that a copy is to join.
func (k *surface) openEnds() (list []int32) {
	if k.repeats == nil {
		return nil
	}
	for _, g := range k.repeats.groups {
		for _, c := range g.copies {
			for _, l := range c.seam {
				list = append(list, l.from)
			}
		}
	}
	return list
}

// joined joins homes to what is round them again. Vertices are rounded as files hold them.
func (k *surface) joined(s *simplified) *thinned {
	out := &thinned{TriMesh: &TriMesh{}}
	was := s.olds()
	number := make([]int32, len(s.Vertices))
	for n, p := range s.Vertices {
		if _, twice := k.mended[was[n]]; !twice {
			number[n] = int32(len(out.Vertices))
			out.Vertices, out.corner = append(out.Vertices, k.rounded(p)), append(out.corner, k.corner[was[n]])
		}
	}
	for v, w := range k.mended {
		number[s.number[v]] = number[s.number[w]]
	}
	out.Triangles, out.facet = make([][3]int32, len(s.Triangles)), make([]int32, len(s.Triangles))
	for t, tri := range s.Triangles {
		out.Triangles[t] = [3]int32{number[tri[0]], number[tri[1]], number[tri[2]]}
		out.facet[t] = k.facet[s.from[t]]
	}
	if k.repeats == nil {
		return out
	}
	out.group = make([]int16, len(s.Triangles))
	for t, from := range s.from {
		out.group[t] = k.group[from]
	}
	for _, there := range k.there {
		at := make(map[int32]int32, len(there))
		for v, w := range there {
			at[number[s.number[v]]] = number[s.number[w]]
		}
		out.seams = append(out.seams, at)
	}
	return out
}

// olds returns the number that each vertex had in the mesh given.
func (s *simplified) olds() []int32 {
	was := make([]int32, len(s.Vertices))
	for v, n := range s.number {
		if n >= 0 {
			was[n] = int32(v)
		}
	}
	return was
}

// rounded rounds a vertex to 32 bits, and where there are copies to a step for which all
// places have room, so that what a copy is made of is exactly its home moved.
func (k *surface) rounded(p Vec) Vec {
	if k.repeats == nil {
		return p.rounded32()
	}
	return k.repeats.rounded(p)
}

// finest is the step that vertices are rounded to besides 32 bits, mm; 0 where nothing is copied.
func (k *surface) finest() float64 {
	if k.repeats == nil {
		return 0
	}
	return k.repeats.finest
}

func (r *repeats) rounded(p Vec) Vec {
	return Vec{math.Round(p.X/r.finest) * r.finest, math.Round(p.Y/r.finest) * r.finest, math.Round(p.Z/r.finest) * r.finest}
}

// copy adds the copies to the mesh that complete has made, whole facets of leaf i from triangle
// start[i] on, and returns, for each triangle, the number of its copy, 0 for none.
func (k *surface) copy(ctx context.Context, m *TriMesh, drawn *thinned, start []int, workers int) (of []int32, err error) {
	if k.repeats == nil {
		return nil, nil
	}
	of = make([]int32, len(m.Triangles))
	seams := drawn.seams
	for i, g := range k.repeats.groups {
		n := len(g.copies)
		if n == 0 {
			continue
		}
		home := newCopied(m, k.trianglesOf(int16(i+1), drawn, start), seams[0])
		first, place := len(m.Triangles), len(m.Vertices)
		m.Vertices = slices.Grow(m.Vertices, n*len(home.vertices))[:place+n*len(home.vertices)]
		m.Triangles = slices.Grow(m.Triangles, n*len(home.triangles))[:first+n*len(home.triangles)]
		of = slices.Grow(of, n*len(home.triangles))[:len(m.Triangles)]
		err := parallel.For(ctx, n, workers, func(j int) {
			t := first + j*len(home.triangles)
			home.copy(m, place+j*len(home.vertices), t, k.repeats.rounded(g.copies[j].by), seams[j])
			for i := range home.triangles {
				of[t+i] = int32(len(drawn.seams) - len(seams) + j + 1)
			}
		})
		if err != nil {
			return nil, err
		}
		seams = seams[n:]
	}
	return of, nil
}

// copied is what is to be copied of a mesh.
type copied struct {
	triangles []int32
	vertices  []int32 // those that are not on the seam
	number    []int32 // by vertex: its place among them, plus 1, 0 for one on the seam
}

// newCopied is for triangles of m round which a seam goes.
func newCopied(m *TriMesh, triangles []int32, seam map[int32]int32) *copied {
	c := &copied{triangles: triangles, number: make([]int32, len(m.Vertices))}
	c.vertices = make([]int32, 0, len(triangles)*5/8) // a surface has half as many as triangles
	for _, t := range triangles {
		for _, v := range m.Triangles[t] {
			if _, onSeam := seam[v]; !onSeam && c.number[v] == 0 {
				c.vertices = append(c.vertices, v)
				c.number[v] = int32(len(c.vertices))
			}
		}
	}
	return c
}

// copy writes the vertices from a place on and the triangles from another, moved by a way.
// Vertices of the seam take the places of those there.
func (c *copied) copy(m *TriMesh, place, first int, by Vec, seam map[int32]int32) {
	for v, w := range seam {
		m.Vertices[w] = m.Vertices[v].Add(by)
	}
	for i, v := range c.vertices {
		m.Vertices[place+i] = m.Vertices[v].Add(by)
	}
	for i, t := range c.triangles {
		tri := m.Triangles[t]
		for j, v := range tri {
			if n := c.number[v]; n > 0 {
				tri[j] = int32(place) + n - 1
			} else {
				tri[j] = seam[v]
			}
		}
		m.Triangles[first+i] = tri
	}
}

// trianglesOf lists the triangles of a home in the mesh that complete has made.
func (k *surface) trianglesOf(group int16, drawn *thinned, start []int) (list []int32) {
	n := 0
	for l, f := range k.whole {
		if f.group == group {
			n += start[l+1] - start[l]
		}
	}
	list = make([]int32, 0, n+len(drawn.group))
	for t, g := range drawn.group {
		if g == group {
			list = append(list, int32(t))
		}
	}
	for l, f := range k.whole {
		if f.group == group {
			for t := start[l]; t < start[l+1]; t++ {
				list = append(list, int32(t))
			}
		}
	}
	return list
}

// seamsFit reports whether the edges at which what is sampled is open along seams are the same
// everywhere: of a home on both sides, and round its copies. Edges are of vertices of k.sampled.
func (k *surface) seamsFit(open [][2]int32) bool {
	var inside [][2]int32
	outside := map[[2]int32]int{}
	for _, e := range open {
		a, inA := k.mended[e[0]]
		b, inB := k.mended[e[1]]
		switch {
		case inA != inB:
			return false
		case inA:
			inside = append(inside, [2]int32{a, b})
		default:
			outside[e]++
		}
	}
	for _, e := range inside {
		outside[[2]int32{e[1], e[0]}]--
		for _, there := range k.there {
			a, isA := there[e[0]]
			b, isB := there[e[1]]
			if isA && isB {
				outside[[2]int32{b, a}]--
			}
		}
	}
	for _, n := range outside {
		if n != 0 {
			return false
		}
	}
	return true
}
