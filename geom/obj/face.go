package obj

import (
	"bytes"
	"math"
	"strconv"

	"halfpour/geom"
	"halfpour/geom/internal/meshtext"
)

// maxCorners bounds the time for a face, which grows with the square of its
// corners; maxTriangles keeps three vertices a triangle within int32 indices.
const (
	maxCorners   = 2048
	maxTriangles = math.MaxInt32 / 3
)

// face takes the corners of a face and adds its triangles.
func (r *reader) face() error {
	words := r.words[1:]
	if len(words) < 3 {
		return r.fail(RuleCorners, "a face has %d corners, expected 3 or more", len(words))
	}
	if len(words) > maxCorners {
		return &UnsupportedError{r.line, "a face has " + strconv.Itoa(r.count-1) + " corners, at most " + strconv.Itoa(maxCorners) + " can be read; export triangles"}
	}
	if len(r.triangles)+len(words) > maxTriangles {
		return &UnsupportedError{r.line, "more than " + strconv.Itoa(maxTriangles) + " triangles; export a coarser mesh"}
	}
	r.corners = r.corners[:0]
	for _, word := range words {
		v, err := r.corner(word)
		if err != nil {
			return err
		}
		r.corners = append(r.corners, v)
	}
	r.info.Faces++
	if len(words) == 3 {
		r.add(r.corners[0], r.corners[1], r.corners[2])
		return nil
	}
	r.info.Polygons++
	return r.polygon()
}

// corner returns the index of the vertex of "v", "v/vt", "v//vn" or
// "v/vt/vn". A negative one counts back from the last vertex.
func (r *reader) corner(word []byte) (int32, error) {
	text, rest, _ := bytes.Cut(word, []byte("/"))
	n, err := strconv.Atoi(string(text))
	if err != nil {
		return 0, r.fail(RuleNumber, "expected a vertex's number, got %s", meshtext.Quote(word))
	}
	for parts := 1; len(rest) > 0; parts++ {
		var other []byte
		other, rest, _ = bytes.Cut(rest, []byte("/"))
		if _, err := strconv.Atoi(string(other)); err != nil && len(other) > 0 || parts > 2 {
			return 0, r.fail(RuleNumber, "expected numbers such as 1/2/3, got %s", meshtext.Quote(word))
		}
	}
	i := n - 1
	if n < 0 {
		i = len(r.points) + n
	}
	if n == 0 || i < 0 || i >= len(r.points) {
		return 0, r.fail(RuleIndex, "vertex %d is not among the %d before this line", n, len(r.points))
	}
	return int32(i), nil
}

func (r *reader) add(i, j, k int32) {
	i, j, k = r.welded(i), r.welded(j), r.welded(k)
	if i == j || j == k || k == i {
		r.info.Degenerate++
		return
	}
	r.triangles = append(r.triangles, [3]int32{i, j, k})
}

// welded returns the index that all vertices in the place of point i share.
func (r *reader) welded(i int32) int32 {
	if r.index[i] == 0 {
		r.index[i] = 1 + r.weld.Index(r.points[i])
	}
	return r.index[i] - 1
}

// polygon cuts the face in r.corners into triangles.
func (r *reader) polygon() error {
	// A corner that stands twice in a row has no edge.
	kept := r.corners[:0]
	for i, v := range r.corners {
		if i == 0 || r.points[v] != r.points[kept[len(kept)-1]] {
			kept = append(kept, v)
		}
	}
	for len(kept) > 1 && r.points[kept[0]] == r.points[kept[len(kept)-1]] {
		kept = kept[:len(kept)-1]
	}
	if len(kept) < 3 {
		r.info.Degenerate += len(r.corners) - 2
		return nil
	}
	c := &r.cut
	c.Points = c.Points[:0]
	for _, v := range kept {
		c.Points = append(c.Points, r.points[v])
	}
	if !c.Cut() {
		return r.fail(RulePolygon, "the face of %d corners crosses itself or is bent so that it cannot be cut into triangles; export triangles", len(r.corners))
	}
	for _, t := range c.Triangles {
		r.add(kept[t[0]], kept[t[1]], kept[t[2]])
	}
	warp := warpOf(c)
	if r.info.Warp += warp; warp > r.worst {
		r.worst, r.info.WarpLine = warp, r.line
	}
	return nil
}

// warpOf returns by how much volume two ways to cut the face into triangles may
// differ: of four corners, the tetrahedron that they span; of more, the slab
// between its lowest and highest corner over its area.
func warpOf(c *geom.PolygonCutter) float64 {
	switch len(c.Points) {
	case 3:
		return 0
	case 4:
		a, b, d := c.Points[1].Sub(c.Points[0]), c.Points[2].Sub(c.Points[0]), c.Points[3].Sub(c.Points[0])
		return math.Abs(a.Dot(b.Cross(d))) / 6
	}
	twice := c.Normal.Norm()
	if twice == 0 {
		return 0
	}
	low, high, box := math.Inf(1), math.Inf(-1), geom.EmptyBox()
	for _, p := range c.Points {
		h := p.Sub(c.Points[0]).Dot(c.Normal) / twice
		low, high, box = math.Min(low, h), math.Max(high, h), box.Include(p)
	}
	// Corners of a flat face are off its plane by their own rounding.
	const rounding = 1e-6
	if high-low < rounding*math.Max(box.Max.Norm(), box.Min.Norm()) {
		return 0
	}
	return twice / 2 * (high - low)
}
