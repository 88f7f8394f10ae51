package geom

import (
	"math"
	"slices"

	"halfpour/geom/unionfind"
)

// plug is a fan that closes a hole.
type plug struct {
	at    Vec
	open  float64 // mm³
	first int     // of its triangles
}

// fillHoles closes every loop of loose edges by a fan about its middle, and
// then leaves out what is a stray with it.
func (d *mender) fillHoles() {
	before := len(d.mesh.Triangles)
	var list []plug
	for _, loop := range holes(d.loose()) {
		points := make([]Vec, len(loop))
		for k, v := range loop {
			points[k] = d.mesh.Vertices[v]
		}
		middle, reach := reachOf(points)
		f := plug{at: middle, first: len(d.mesh.Triangles)}
		f.open = reach * d.fan(loop, middle)
		list = append(list, f)
	}
	strays := d.strays(before, list)
	count, open, strayOpen, at := 0, 0.0, 0.0, Vec{}
	for _, f := range list {
		if strays[f.first] {
			strayOpen += f.open
			continue
		}
		if count == 0 {
			at = f.at
		}
		count++
		open += f.open
	}
	d.done(FilledHoles, count, at, open)
	d.leaveOutStrays(before, strays, strayOpen)
}

// fan adds the triangles that close a loop, and returns their area.
func (d *mender) fan(loop []int32, middle Vec) float64 {
	first := len(d.mesh.Triangles)
	if len(loop) == 3 {
		d.mesh.Triangles = append(d.mesh.Triangles, [3]int32{loop[0], loop[1], loop[2]})
	} else {
		hub := int32(len(d.mesh.Vertices))
		d.mesh.Vertices = append(d.mesh.Vertices, middle)
		for k, v := range loop {
			d.mesh.Triangles = append(d.mesh.Triangles, [3]int32{v, loop[(k+1)%len(loop)], hub})
		}
	}
	return (&TriMesh{Vertices: d.mesh.Vertices, Triangles: d.mesh.Triangles[first:]}).Area()
}

// holes joins loose edges into loops that run the other way and meet no vertex
// twice. Edges that do not close into loops are left out.
func holes(loose []looseEdge) [][]int32 {
	next := map[int32][]int32{} // where to go on from a vertex
	for _, e := range loose {
		next[e.to] = append(next[e.to], e.from)
	}
	var loops [][]int32
	for _, start := range boundaryVertices(loose) {
		path, at := []int32{start}, map[int32]int{start: 0}
		for {
			v := path[len(path)-1]
			if len(next[v]) == 0 {
				break
			}
			to := next[v][0]
			next[v] = next[v][1:]
			k, seen := at[to]
			if !seen {
				at[to] = len(path)
				path = append(path, to)
				continue
			}
			if len(path)-k >= 3 {
				loops = append(loops, slices.Clone(path[k:]))
			}
			for _, w := range path[k+1:] {
				delete(at, w)
			}
			path = path[:k+1]
		}
	}
	return loops
}

// strays marks what holds next to nothing: pieces that hang on nothing else and
// hold less than a quarter of what their filled holes leave open, and facets
// that lie face to face with those that filled the hole that their own boundary was.
// before is the number of triangles before the filling.
func (d *mender) strays(before int, plugs []plug) []bool {
	pieces := d.pieces()
	open, volume := map[int32]float64{}, map[int32]float64{} // by root
	for _, p := range plugs {
		open[pieces.Root(int32(p.first))] += p.open
	}
	origin := d.mesh.Vertices[d.mesh.Triangles[0][0]]
	for t := range d.mesh.Triangles {
		a, b, c := d.mesh.Corners(t)
		volume[pieces.Root(int32(t))] += a.Sub(origin).Dot(b.Sub(origin).Cross(c.Sub(origin))) / 6
	}
	drop := make([]bool, len(d.mesh.Triangles))
	for t := range drop {
		root := pieces.Root(int32(t))
		drop[t] = math.Abs(volume[root]) < open[root]/4
	}
	d.markFins(before, drop)
	return drop
}

// markFins marks old facets and new ones on the same corners, face to face.
func (d *mender) markFins(before int, drop []bool) {
	list := d.twins()
	for i := 1; i < len(list); i++ {
		a, b := list[i-1], list[i]
		if a.corners == b.corners && a.forwards != b.forwards && (a.triangle < before) != (b.triangle < before) && !drop[a.triangle] {
			drop[a.triangle], drop[b.triangle] = true, true
		}
	}
}

// leaveOutStrays leaves out what is marked; what counts are the old facets.
func (d *mender) leaveOutStrays(before int, drop []bool, open float64) {
	count, at := 0, Vec{}
	for t := range before {
		if drop[t] {
			if count++; count == 1 {
				at, _, _ = d.mesh.Corners(t)
			}
		}
	}
	if count > 0 {
		d.keep(func(t int) bool { return !drop[t] })
		d.done(LeftOutStrays, count, at, open)
	}
}

// pieces joins triangles that share an edge.
func (d *mender) pieces() unionfind.Sets {
	f := unionfind.New(len(d.mesh.Triangles))
	e := listEdges(d.mesh)
	for v := range d.mesh.Vertices {
		e.visit(int32(v), func(_ int32, there, back []outEdge) {
			for _, x := range there {
				for _, y := range back {
					f.Join(x.edge/3, y.edge/3)
				}
			}
		})
	}
	return f
}
