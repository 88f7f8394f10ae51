package heat

import (
	"math"

	"halfpour/geom"
)

// link is a way for heat between two parts.
type link struct {
	a, b       int32
	area       float64 // mm²
	da, db     float64 // from either part's middle to where they meet, mm
	resistance float64 // of the contact, mm²·K/W
	kind       linkKind
	across     bool    // the parting
	lead       float64 // of nearby: how much farther b is from what is cast than a where it lies straight across, mm
}

type linkKind uint8

const (
	within linkKind = iota // one substance
	skin                   // between what is cast and the fill: b is the fill
	other                  // between two bodies
	nearby                 // within the fill near the skin: a is the nearer
)

// ground is a way from a part to the air.
type ground struct {
	part        int32
	area, d     float64
	coefficient float64 // W/(mm²·K)
}

// linker lists the links of a grid.
type linker struct {
	g     *grid
	links []link
	seen  []int32 // by part: the last link to it, 1 up
	air   []ground
	open  []ground // while the mold lies open, besides the skin
}

func (g *grid) fill() int { return len(g.scene.Bodies) }

// link lists all ways for heat.
func (g *grid) link() *linker {
	l := &linker{g: g, seen: make([]int32, len(g.parts))}
	for i := range g.leaves {
		l.inside(&g.leaves[i])
		for a := range 3 {
			l.face(i, a)
		}
	}
	return l
}

// inside links the parts of one cell.
func (l *linker) inside(cell *leaf) {
	for _, t := range cell.cut.pairs {
		l.meet(cell.first+int32(t.p), cell.first+int32(t.q), t.area, t.dp, t.dq)
	}
}

// meet links parts of different bodies.
func (l *linker) meet(a, b int32, area, da, db float64) {
	g := l.g
	p, q := g.parts[a].body, g.parts[b].body
	k := link{a: a, b: b, area: area, da: da, db: db, kind: other, resistance: l.resistance(p, q)}
	switch {
	case l.cast(p) && l.cast(q):
		k.kind = within
	case q == g.fill() && l.cast(p):
		k.kind = skin
	case p == g.fill() && l.cast(q):
		k.kind, k.a, k.b, k.da, k.db = skin, b, a, db, da
	}
	l.links = append(l.links, k)
}

func (l *linker) cast(body int) bool {
	return body < l.g.fill() && l.g.scene.Bodies[body].Role.Cast()
}

// resistance of the contact between two bodies, mm²·K/W.
func (l *linker) resistance(p, q int) float64 {
	if l.cast(p) && l.cast(q) {
		return 0
	}
	worst := 0.0
	for _, b := range [2]int{p, q} {
		if b < l.g.fill() && l.g.scene.Bodies[b].Contact > 0 {
			worst = math.Max(worst, 1e6/l.g.scene.Bodies[b].Contact)
		}
	}
	return worst
}

// face links a leaf with what lies on its side towards higher coordinates, and
// with the air where the grid ends.
func (l *linker) face(i, axis int) {
	g := l.g
	cell := &g.leaves[i]
	u, v := (axis+1)%3, (axis+2)%3
	if cell.lo[axis] == 0 || axis == 2 && g.halved && int(cell.lo[2]) == g.middle {
		l.outside(cell, axis, 0)
	}
	if int(cell.hi[axis]) == g.n(axis) {
		l.outside(cell, axis, 1)
		return
	}
	at := cell.hi
	for at[u] = cell.lo[u]; at[u] < cell.hi[u]; at[u]++ {
		for at[v] = cell.lo[v]; at[v] < cell.hi[v]; at[v]++ {
			next := g.leafAt[g.index(int(at[0]), int(at[1]), int(at[2]))]
			du := g.lines[u][at[u]+1] - g.lines[u][at[u]]
			dv := g.lines[v][at[v]+1] - g.lines[v][at[v]]
			l.join(cell, &g.leaves[next], axis, du*dv)
		}
	}
}

// half is half a leaf's length along an axis.
func (g *grid) half(c *leaf, axis int) float64 {
	return (g.lines[axis][c.hi[axis]] - g.lines[axis][c.lo[axis]]) / 2
}

// join links the parts of two leaves that share a cell's face.
func (l *linker) join(a, b *leaf, axis int, area float64) {
	da, db := l.g.half(a, axis), l.g.half(b, axis)
	if len(a.cut.bodies) == 1 && len(b.cut.bodies) == 1 {
		l.pass(a.first, b.first, area, da, db, axis, a)
		return
	}
	by, side := a, 2*axis+1
	if len(a.cut.bodies) == 1 {
		by, side = b, 2*axis
	}
	for u, body := range by.cut.bodies {
		if share := by.cut.faces[side][u]; share > 0 {
			l.pass(a.of(body), b.of(body), share, da, db, axis, a)
		}
	}
}

// of is the part of a body, or the largest part where the body has none.
func (c *leaf) of(body int) int32 {
	large := 0
	for i, b := range c.cut.bodies {
		if b == body {
			return c.first + int32(i)
		}
		if c.cut.volume[i] > c.cut.volume[large] {
			large = i
		}
	}
	return c.first + int32(large)
}

// pass adds area to the link between two parts.
func (l *linker) pass(a, b int32, area, da, db float64, axis int, below *leaf) {
	g := l.g
	across := axis == 2 && int(below.hi[2]) == g.middle
	if s := l.seen[b]; s > 0 && l.links[s-1].a == a && l.links[s-1].b == b && l.links[s-1].across == across {
		l.links[s-1].area += area
		return
	}
	pa, pb := &g.parts[a], &g.parts[b]
	face := g.lines[axis][below.hi[axis]]
	const least = 0.02 // of the cell
	da = math.Max(least*da, face-along(pa.centre, axis))
	db = math.Max(least*db, along(pb.centre, axis)-face)
	if pa.body != pb.body {
		l.meet(a, b, area, da, db)
	} else {
		l.links = append(l.links, link{a: a, b: b, area: area, da: da, db: db, kind: within})
	}
	k := &l.links[len(l.links)-1]
	k.across = across
	if k.a == a {
		l.seen[b] = int32(len(l.links))
	}
	if k.kind == within && pa.body == g.fill() && pb.body == g.fill() && math.Max(pa.fromCast, pb.fromCast) < nearSkin*g.cell {
		k.kind = nearby
		k.lead = along(pa.away.Add(pb.away).Unit(), axis) * (da + db)
		if pa.fromCast > pb.fromCast {
			k.a, k.b, k.da, k.db, k.lead = b, a, db, da, -k.lead
			l.seen[b] = 0
		}
	}
	if across {
		l.parting(a, da, area)
		l.parting(b, db, area)
	}
}

// along is a component.
func along(v geom.Vec, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }

// parting lets a part lose heat through the parting while the mold is open.
func (l *linker) parting(part int32, d, area float64) {
	if h := l.g.scene.OpenAir; h > 0 && l.stays(part) {
		l.open = append(l.open, ground{part, area, d, h * 1e-6})
	}
}

// stays reports whether a part is there between shots.
func (l *linker) stays(part int32) bool {
	b := l.g.parts[part].body
	return b == l.g.fill() || l.g.scene.Bodies[b].Role == Fixed
}

// outside links a leaf's parts with the air. The middle of a halved mold lets
// heat through only while it is open.
func (l *linker) outside(cell *leaf, axis, side int) {
	g := l.g
	d := g.half(cell, axis)
	size := g.box(cell.lo, cell.hi).Size()
	whole := [3]float64{size.Y * size.Z, size.Z * size.X, size.X * size.Y}[axis]
	for u, body := range cell.cut.bodies {
		area := whole
		if len(cell.cut.bodies) > 1 {
			area = cell.cut.faces[2*axis+side][u]
		}
		if area <= 0 {
			continue
		}
		part := cell.first + int32(u)
		if g.halved && axis == 2 && side == 0 && int(cell.lo[2]) == g.middle {
			l.parting(part, d, area)
			continue
		}
		h := g.scene.Air[axis]
		if axis == 0 && g.scene.Even[side] {
			h = 0
		}
		if body < g.fill() && g.scene.Bodies[body].Outward > 0 {
			h = g.scene.Bodies[body].Outward
		}
		if h > 0 {
			l.air = append(l.air, ground{part, area, d, h * 1e-6})
		}
	}
}

// point on the way of a link.
func (g *grid) between(k *link) geom.Vec {
	return g.parts[k.a].centre.Lerp(g.parts[k.b].centre, k.da/math.Max(k.da+k.db, 1e-9))
}
