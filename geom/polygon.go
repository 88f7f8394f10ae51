package geom

import "math"

// PolygonCutter cuts a polygon into triangles by clipping ears (Meisters, "Polygons
// have ears", Am. Math. Monthly 82, 1975) in its projection along the greatest
// part of its normal. Its slices are reused.
type PolygonCutter struct {
	Points    []Vec
	Triangles [][3]int // indices into Points

	Normal     Vec // by Newell; its length is twice the area
	flat       []Vec2
	next, prev []int
	ear        []bool
}

// Cut fills Triangles, facing as the polygon does, and reports whether they
// cover it. A polygon without area becomes a fan, which keeps its edges.
func (c *PolygonCutter) Cut() bool {
	n := len(c.Points)
	c.Triangles = c.Triangles[:0]
	c.project()
	if c.Normal == (Vec{}) || n == 3 {
		c.fan()
		return true
	}
	c.next, c.prev, c.ear = c.next[:0], c.prev[:0], c.ear[:0]
	for i := range n {
		c.next, c.prev, c.ear = append(c.next, (i+1)%n), append(c.prev, (i+n-1)%n), append(c.ear, false)
	}
	for i := range n {
		c.ear[i] = c.isEar(i)
	}
	i := 0
	for left, idle := n, 0; left > 3; {
		if !c.ear[i] {
			if idle++; idle > left {
				return false
			}
			i = c.next[i]
			continue
		}
		p, q := c.prev[i], c.next[i]
		c.Triangles = append(c.Triangles, [3]int{p, i, q})
		c.next[p], c.prev[q] = q, p
		c.ear[p], c.ear[q] = c.isEar(p), c.isEar(q)
		left, idle = left-1, 0
		i = c.next[q] // not q: ears in a row make slivers
	}
	c.Triangles = append(c.Triangles, [3]int{c.prev[i], i, c.next[i]})
	return c.covers()
}

func (c *PolygonCutter) fan() {
	for i := 2; i < len(c.Points); i++ {
		c.Triangles = append(c.Triangles, [3]int{0, i - 1, i})
	}
}

// project makes the normal and the points in the plane, counter-clockwise.
func (c *PolygonCutter) project() {
	c.Normal = Vec{}
	o := c.Points[0]
	for i := 2; i < len(c.Points); i++ {
		c.Normal = c.Normal.Add(c.Points[i-1].Sub(o).Cross(c.Points[i].Sub(o)))
	}
	x, y, z := math.Abs(c.Normal.X), math.Abs(c.Normal.Y), math.Abs(c.Normal.Z)
	c.flat = c.flat[:0]
	for _, p := range c.Points {
		p = p.Sub(o)
		var q Vec2
		var part float64
		switch {
		case z >= x && z >= y:
			q, part = Vec2{X: p.X, Y: p.Y}, c.Normal.Z
		case x >= y:
			q, part = Vec2{X: p.Y, Y: p.Z}, c.Normal.X
		default:
			q, part = Vec2{X: p.Z, Y: p.X}, c.Normal.Y
		}
		if part < 0 {
			q.X = -q.X
		}
		c.flat = append(c.flat, q)
	}
}

// turn is twice the area of the triangle, above 0 when counter-clockwise.
func turn(a, b, c Vec2) float64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}

// isEar reports whether the corner can be cut off: it is convex and no other
// corner lies in or on its triangle, those in the place of its own aside.
func (c *PolygonCutter) isEar(i int) bool {
	p, q := c.prev[i], c.next[i]
	a, b, d := c.flat[p], c.flat[i], c.flat[q]
	if turn(a, b, d) <= 0 {
		return false
	}
	for j := c.next[q]; j != p; j = c.next[j] {
		f := c.flat[j]
		if f != a && f != b && f != d && turn(a, b, f) >= 0 && turn(b, d, f) >= 0 && turn(d, a, f) >= 0 {
			return false
		}
	}
	return true
}

// covers holds the triangles' areas against the polygon's: one that crosses
// itself may have ears and still not be what they make up.
func (c *PolygonCutter) covers() bool {
	sum, size := 0.0, 0.0
	for _, t := range c.Triangles {
		a := turn(c.flat[t[0]], c.flat[t[1]], c.flat[t[2]])
		sum, size = sum+a, size+math.Abs(a)
	}
	return size-sum <= 1e-9*size
}
