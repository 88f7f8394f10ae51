package box

import (
	"math"

	"halfpour/geom"
	"halfpour/geom/unionfind"
)

// Frame is one half's frame as it was found.
type Frame struct {
	Mesh *geom.TriMesh

	Floor  float64  // the largest level part of the room's surface
	Rim    float64  // where liquid runs over
	RimAt  geom.Vec // the lowest point of the rim
	Top    float64  // the highest point of all
	Fill   float64  // level of the rubber
	Volume float64  // of the room up to Fill, mm³

	Inside, Outside geom.Box // the room up to Fill; the frame

	Relief   float64 // the highest point of what rubber covers; the floor's height when nothing stands on it
	ReliefAt geom.Vec
	Standing []geom.Vec // tops of posts that stand out of the rubber, walls left out

	room int32 // vertex of the room's surface
}

// Options are what is known of a frame.
type Options struct {
	Fill      *float64 // height of the rubber over the floor; nil: Freeboard under the rim
	Freeboard float64  // from the fill line to the rim
}

// Look finds room, floor and rim of a frame that stands with its floor down.
// It reports false for a mesh that holds nothing.
func Look(m *geom.TriMesh, opt Options) (*Frame, bool) {
	s, found := findSpill(m)
	if !found {
		return nil, false
	}
	f := &Frame{Mesh: m, Rim: s.level, RimAt: s.at, Outside: m.BoundingBox(), room: s.lowest}
	f.Top = f.Outside.Max.Z
	f.Floor = f.findFloor()
	f.Fill = f.Rim - opt.Freeboard
	if opt.Fill != nil {
		f.Fill = f.Floor + *opt.Fill
	}
	f.Volume = held(m, f.room, f.Fill)
	f.Inside = f.roomBox(f.Fill)
	f.Relief, f.ReliefAt, f.Standing = f.reliefs()
	return f, true
}

// inRoom visits the facets of the room's surface that reach below a level.
func (f *Frame) inRoom(level float64, visit func(t int32)) {
	parts := below(f.Mesh, level)
	root := parts.Root(f.room)
	for i, t := range f.Mesh.Triangles {
		if v, low := lowestOf(f.Mesh, t); low < level && parts.Root(v) == root {
			visit(int32(i))
		}
	}
}

// sameLevel is how far heights may be apart that are one level, mm: what file
// formats round to.
const sameLevel = 1e-3

// findFloor returns the height with the most level surface of the room.
func (f *Frame) findFloor() float64 {
	areas := map[int64]float64{}
	f.inRoom(f.Rim, func(t int32) {
		a, b, c := f.Mesh.Corners(int(t))
		if max(a.Z, b.Z, c.Z)-min(a.Z, b.Z, c.Z) < sameLevel {
			areas[int64(math.Round(a.Z/sameLevel))] += levelArea(f.Mesh, t)
		}
	})
	best, most := int64(math.Round(f.Mesh.Vertices[f.room].Z/sameLevel)), 0.0
	for level, area := range areas {
		if area > most || area == most && level < best {
			best, most = level, area
		}
	}
	return float64(best) * sameLevel
}

// roomBox encloses the room up to a level.
func (f *Frame) roomBox(level float64) geom.Box {
	b := geom.EmptyBox()
	f.inRoom(level, func(t int32) {
		p := [3]geom.Vec{}
		p[0], p[1], p[2] = f.Mesh.Corners(int(t))
		for i, v := range p {
			if v.Z <= level {
				b = b.Include(v)
				continue
			}
			for _, w := range p {
				if w.Z < level {
					b = b.Include(w.Add(p[i].Sub(w).Mul((level - w.Z) / (v.Z - w.Z))))
				}
			}
		}
	})
	b.Max.Z = level
	return b
}

// overFloor is from what height over the floor on something stands on it, mm.
const overFloor = 0.2

// reliefs finds what stands on the floor: the highest top that rubber covers,
// and the tops of posts that stand out of the rubber, where it gets a hole. A top
// is a corner of the room's surface with none higher beside it.
func (f *Frame) reliefs() (highest float64, at geom.Vec, standing []geom.Vec) {
	m := f.Mesh
	notTop := make([]bool, len(m.Vertices))
	out := unionfind.New(len(m.Vertices)) // what stands out of the rubber
	for _, t := range m.Triangles {
		for i, v := range t {
			w := t[(i+1)%3]
			if higher(m, v, w) {
				notTop[w] = true
			} else {
				notTop[v] = true
			}
			if m.Vertices[v].Z >= f.Fill && m.Vertices[w].Z >= f.Fill {
				out.Join(v, w)
			}
		}
	}
	wall := int32(-1)
	highest, seen := f.Floor, map[int32]bool{}
	for v := range m.Vertices {
		if v := int32(v); m.Vertices[v].Z >= f.Fill && (wall < 0 || m.Vertices[v].X < m.Vertices[wall].X) {
			wall = v
		}
	}
	f.inRoom(f.Fill, func(t int32) {
		for _, v := range m.Triangles[t] {
			switch p := m.Vertices[v]; {
			case p.Z >= f.Fill && wall >= 0 && out.Root(v) != out.Root(wall) && !seen[out.Root(v)]:
				seen[out.Root(v)] = true
				standing = append(standing, p)
			case p.Z < f.Fill && p.Z > f.Floor+overFloor && p.Z > highest && !notTop[v]:
				highest, at = p.Z, p
			}
		}
	})
	return highest, at, standing
}
