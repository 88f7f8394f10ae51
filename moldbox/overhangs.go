package moldbox

import (
	"cmp"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/unionfind"
)

// Hanging is a patch of a frame's surface that hangs over too steeply to be printed on
// air, or a roof that the printer bridges.
type Hanging struct {
	At       geom.Vec // its steepest place, from the frame's left, near and lower corner in print coordinates
	Area     float64  // as seen from below, mm²
	Steepest float64  // angle from upright, radians: 0 a wall, π/2 a level roof
	Bridge   float64  // what a level roof spans between walls under both its ends, mm; 0: no bridge
	Cavity   string   // whose head it is in or under; "" elsewhere
}

// NeedsSupport reports whether the printer cannot do without support there.
func (h Hanging) NeedsSupport() bool { return h.Bridge == 0 || h.Bridge > MostBridge }

// MostBridge is the widest span that printers bridge without support, mm (common
// practice, no source).
const MostBridge = 10.0

// levelRoof is from how far from upright on a patch is a level roof.
const levelRoof = 80 * math.Pi / 180

// plateReach is how far over the plate a patch may be and still lie on it, mm.
const plateReach = 0.05

// hangingPatches finds what of a mesh that lies on its lowest plane hangs over by more
// than limit radians from upright, the largest patch first. Patches of less than leastFlaw
// are left out.
func hangingPatches(mesh *geom.TriMesh, limit float64) []Hanging {
	low := mesh.BoundingBox().Min.Z
	var steep []int32
	edges := map[[2]int32]int{} // of steep triangles, as they run round them
	steepness := func(t int) (angle, area float64) {
		a, b, c := mesh.Corners(t)
		n := b.Sub(a).Cross(c.Sub(a))
		size := n.Norm()
		if size == 0 || max(a.Z, b.Z, c.Z) < low+plateReach {
			return 0, 0
		}
		return math.Asin(max(-1, min(1, -n.Z/size))), -n.Z / 2
	}
	for t, corners := range mesh.Triangles {
		if angle, _ := steepness(t); angle > limit {
			for k := range 3 {
				edges[[2]int32{corners[k], corners[(k+1)%3]}] = len(steep)
			}
			steep = append(steep, int32(t))
		}
	}
	sets := unionfind.New(len(steep))
	walls := map[[2]int32]bool{} // edges of steep triangles with a wall going down beyond
	for t, corners := range mesh.Triangles {
		for k := range 3 {
			p, q := corners[k], corners[(k+1)%3]
			mine, ok := edges[[2]int32{q, p}]
			if !ok {
				continue
			}
			if other, both := edges[[2]int32{p, q}]; both && steep[other] == int32(t) {
				sets.Join(int32(mine), int32(other))
				continue
			}
			v := mesh.Vertices
			walls[[2]int32{q, p}] = v[corners[(k+2)%3]].Z < min(v[p].Z, v[q].Z)-plateReach
		}
	}
	patches := map[int32]*hangingPatch{}
	var order []*hangingPatch
	for i, t := range steep {
		root := sets.Root(int32(i))
		p := patches[root]
		if p == nil {
			p = &hangingPatch{flattest: math.Pi / 2}
			patches[root], order = p, append(order, p)
		}
		angle, area := steepness(int(t))
		p.add(mesh, int(t), angle, area, walls)
	}
	var out []Hanging
	for _, p := range order {
		if p.Area >= leastFlaw {
			p.Bridge = p.span()
			out = append(out, p.Hanging)
		}
	}
	slices.SortStableFunc(out, func(a, b Hanging) int { return cmp.Compare(b.Area, a.Area) })
	return out
}

// hangingPatch gathers one patch.
type hangingPatch struct {
	Hanging
	flattest float64 // the least angle from upright
	box      geom.Box
	ends     [2][2]float64 // along x and y, the least and the greatest at a wall
	walled   bool
}

func (p *hangingPatch) add(mesh *geom.TriMesh, t int, angle, area float64, walls map[[2]int32]bool) {
	a, b, c := mesh.Corners(t)
	p.Area += area
	p.flattest = min(p.flattest, angle)
	if angle > p.Steepest {
		p.Steepest, p.At = angle, a.Add(b).Add(c).Mul(1.0/3)
	}
	box := geom.Box{Min: a, Max: a}.Union(geom.Box{Min: b, Max: b}).Union(geom.Box{Min: c, Max: c})
	if p.box == (geom.Box{}) {
		p.box = box
	}
	p.box = p.box.Union(box)
	corners := mesh.Triangles[t]
	for k := range 3 {
		if e := [2]int32{corners[k], corners[(k+1)%3]}; walls[e] {
			u, v := mesh.Vertices[e[0]], mesh.Vertices[e[1]]
			low, high := [2]float64{min(u.X, v.X), min(u.Y, v.Y)}, [2]float64{max(u.X, v.X), max(u.Y, v.Y)}
			for i := range 2 {
				if !p.walled {
					p.ends[i] = [2]float64{high[i], low[i]}
				}
				p.ends[i] = [2]float64{min(p.ends[i][0], high[i]), max(p.ends[i][1], low[i])}
			}
			p.walled = true
		}
	}
}

// span is the shorter way over a level roof along x or y with walls under both ends; 0
// for none.
func (p *hangingPatch) span() float64 {
	if !p.walled || p.flattest < levelRoof {
		return 0
	}
	span := math.Inf(1)
	for i, ends := range [2][2]float64{{p.box.Min.X, p.box.Max.X}, {p.box.Min.Y, p.box.Max.Y}} {
		if p.ends[i][0] < ends[0]+plateReach && p.ends[i][1] > ends[1]-plateReach {
			span = min(span, ends[1]-ends[0])
		}
	}
	if math.IsInf(span, 1) {
		return 0
	}
	return span
}

// hanging finds what of a half's meshed frame hangs over, and in which cavity; nothing
// when the spec asks for no look.
func (m *Mold) hanging(half Half, mesh *geom.TriMesh) []Hanging {
	limit := m.Spec.Checks.Overhang
	if limit <= 0 {
		return nil
	}
	patches := hangingPatches(mesh, limit)
	for i, p := range patches {
		for _, c := range m.Cavities {
			b := c.Head.BoundingBox()
			u, v := half.ToPrint(b.Min), half.ToPrint(b.Max)
			if p.At.X >= min(u.X, v.X) && p.At.X <= max(u.X, v.X) && p.At.Y >= min(u.Y, v.Y) && p.At.Y <= max(u.Y, v.Y) {
				patches[i].Cavity = c.Name
			}
		}
		patches[i].At = p.At.Sub(mesh.BoundingBox().Min)
	}
	return patches
}
