package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
)

// headSamples is about how many vertices of each head are looked at.
const headSamples = 4000

// addHead moves vertices of a head's mesh to where the frame should have them:
// under a seal coat, inwards by its thickness.
func (p *HalfProof) addHead(ctx context.Context, c *Placed, half Half, coat float64, surface geom.Solid, head *geom.TriMesh) error {
	const golden = 0.6180339887498949 // spreads evenly, in step with no order that a mesh may have
	n, normals := len(head.Vertices), []geom.Vec(nil)
	if coat > 0 {
		normals = vertexNormals(head)
	}
	for k := range min(n, headSamples) {
		i := k
		if n > headSamples {
			_, share := math.Modf(float64(k) * golden)
			i = int(share * float64(n))
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		at := c.ToMold(head.Vertices[i])
		if coat > 0 {
			var plain bool
			if at, plain = under(c, head.Vertices[i], normals[i], coat); !plain {
				continue
			}
		}
		q := half.ToPrint(at)
		if q.Z < -coat || covered(c, at, coat, p.Tolerance) {
			continue
		}
		d := math.Abs(surface.Evaluate(q))
		if d > p.Tolerance && geom.OnlyThinMissed(half.Frame, surface, q, geom.ThinShare*p.Tolerance) {
			p.ThinPoints++
			continue
		}
		p.HeadPoints++
		p.HeadDeviation = math.Max(p.HeadDeviation, d)
		if !(d <= p.Tolerance) {
			return proofError("%s frame: vertex %d of the head of %s is %.4f mm from its surface, the limit is %g mm; near (%.2f, %.2f, %.2f) mm",
				half.Name, i, c.Name, d, p.Tolerance, q.X, q.Y, q.Z)
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
