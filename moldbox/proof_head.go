package moldbox

import (
	"context"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// headSamples is about how many vertices of each head are looked at.
const headSamples = 4000

// addHeads holds the points of all heads against a frame's surface; which points, it works
// out once for cavities that are alike.
func (p *HalfProof) addHeads(ctx context.Context, m *Mold, half Half, surface geom.Solid, heads []*geom.TriMesh) (err error) {
	shown := make([][]shownPoint, len(m.Cavities))
	for i := range m.Cavities {
		if c := &m.Cavities[i]; c.AlikeTo == i {
			if shown[i], err = c.shownPoints(ctx, half, m.Spec.Finish.SealCoat, p.Tolerance, heads[i]); err != nil {
				return err
			}
		}
	}
	each, errs := make([]HalfProof, len(m.Cavities)), make([]error, len(m.Cavities))
	if err := parallel.For(ctx, len(m.Cavities), 0, func(i int) {
		c := &m.Cavities[i]
		each[i].Tolerance = p.Tolerance
		errs[i] = each[i].addHead(ctx, c, half, surface, shown[c.AlikeTo], c.Eye.Sub(m.Cavities[c.AlikeTo].Eye))
	}); err != nil {
		return err
	}
	for i, of := range each {
		p.HeadPoints, p.ThinPoints, p.HeadDeviation = p.HeadPoints+of.HeadPoints, p.ThinPoints+of.ThinPoints, math.Max(p.HeadDeviation, of.HeadDeviation)
		if errs[i] != nil {
			return errs[i]
		}
	}
	return nil
}

// shownPoint is a vertex of a head's mesh, and where a frame should have it, in mold
// coordinates: under a seal coat, inwards by its thickness.
type shownPoint struct {
	vertex int
	at     geom.Vec
}

// shownPoints are the vertices to look at that a half's frame must show.
func (c *Placed) shownPoints(ctx context.Context, half Half, coat, tolerance float64, head *geom.TriMesh) ([]shownPoint, error) {
	const golden = 0.6180339887498949 // spreads evenly, in step with no order that a mesh may have
	n, normals := len(head.Vertices), []geom.Vec(nil)
	if coat > 0 {
		normals = vertexNormals(head)
	}
	const batch = 256
	all := min(n, headSamples)
	shown := make([][]shownPoint, (all+batch-1)/batch)
	err := parallel.For(ctx, len(shown), 0, func(part int) {
		for k := part * batch; k < min(all, (part+1)*batch); k++ {
			i := k
			if n > headSamples {
				_, share := math.Modf(float64(k) * golden)
				i = int(share * float64(n))
			}
			at, plain := c.ToMold(head.Vertices[i]), true
			if coat > 0 {
				at, plain = under(c, head.Vertices[i], normals[i], coat)
			}
			if plain && half.ToPrint(at).Z >= -coat && !covered(c, at, coat, tolerance) {
				shown[part] = append(shown[part], shownPoint{i, at})
			}
		}
	})
	return slices.Concat(shown...), err
}

// addHead holds the points of a head, or of one that is alike and stands elsewhere, against
// a frame's surface.
func (p *HalfProof) addHead(ctx context.Context, c *Placed, half Half, surface geom.Solid, shown []shownPoint, apart geom.Vec) error {
	for _, s := range shown {
		if err := ctx.Err(); err != nil {
			return err
		}
		q := half.ToPrint(s.at.Add(apart))
		d := math.Abs(geom.EvaluateBeyond(surface, q, p.HeadDeviation)) // less than the greatest is of no matter
		if d > p.Tolerance && geom.OnlyThinMissed(half.Frame, surface, q, geom.ThinShare*p.Tolerance) {
			p.ThinPoints++
			continue
		}
		p.HeadPoints++
		p.HeadDeviation = math.Max(p.HeadDeviation, d)
		if !(d <= p.Tolerance) {
			return proofError("%s frame: vertex %d of the head of %s is %.4f mm from its surface, the limit is %g mm; near (%.2f, %.2f, %.2f) mm",
				half.Name, s.vertex, c.Name, d, p.Tolerance, q.X, q.Y, q.Z)
		}
	}
	return nil
}

// under is the place below a vertex of a head at which a print under a seal coat
// must have its surface; false at edges and in creases, where that is not straight
// below.
func under(c *Placed, vertex, normal geom.Vec, coat float64) (geom.Vec, bool) {
	at := c.ToMold(vertex)
	out := c.ToMold(vertex.Add(normal)).Sub(at).Unit()
	at = at.Sub(out.Mul(coat))
	return at, math.Abs(c.Head.Evaluate(at)+coat) < 1e-3*coat
}

// vertexNormals are the unit normals of a mesh's corners, the mean of their
// facets' by area.
func vertexNormals(m *geom.TriMesh) []geom.Vec {
	normals := make([]geom.Vec, len(m.Vertices))
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		for _, i := range t {
			normals[i] = normals[i].Add(n)
		}
	}
	for i := range normals {
		normals[i] = normals[i].Unit()
	}
	return normals
}

// covered reports whether a point of the head's surface need not be on the
// frame's: a channel meets the head there, or it is inside the head, where
// shells overlap.
func covered(c *Placed, at geom.Vec, coat, tolerance float64) bool {
	for _, s := range []geom.Solid{c.Sprue, c.Vent, c.Bed} {
		if s != nil && s.Evaluate(at)+coat < 2*tolerance {
			return true
		}
	}
	for _, way := range [6]geom.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}} {
		if c.Head.Evaluate(at.Add(way.Mul(2*tolerance)))+coat >= 0 {
			return false
		}
	}
	return true
}
