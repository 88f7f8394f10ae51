package moldbox

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/skeleton"
)

// WireBody is a wire as it is drawn in CAD: the mesh of its body and what is
// measured of it, mm in the file's axes.
type WireBody struct {
	Volume   float64 // mm³
	Wire     float64 // diameter: of a round section as large as the usual one
	Thinnest float64 // the least width of a section, the tip left out; well below Wire where the wire is pressed flat
	FlatAt   geom.Vec
	Barbs    int // that stand off the wire

	solid geom.Solid
	ring  []geom.Vec // middles of its sections round the eye, in order; none without an eye
	axis  []geom.Vec // from the eye, or one end, to the other end
	dense []geom.Vec // the same, with the middles of all sections
	barbs [][]geom.Vec
}

// NotWire says why a body cannot be taken as a wire.
type NotWire struct{ Reason, Remedy string }

func (e *NotWire) Error() string { return e.Reason }

// How long a body is at least for its thickness: one that is called a wire, and one that
// is to be told from a head as a hook.
const (
	thinWire  = 4
	thinShare = 10
)

// slenderness is how many times longer than thick a body is: of a round wire of
// length l and diameter d, volume V and surface A give l/d = A³/(16πV²).
func slenderness(m *geom.TriMesh) float64 {
	area, volume := m.Area(), m.Volume()
	return area * area * area / (16 * math.Pi * volume * volume)
}

// MeasureWire looks at a body that is a wire: its axis, its sections, what branches
// off. It fails with a NotWire, or as its context.
func MeasureWire(ctx context.Context, m *geom.TriMesh) (*WireBody, error) {
	solid, err := geom.NewMeshSolid(m)
	if err != nil {
		return nil, &NotWire{err.Error(), "close the body in your CAD program and export it again"}
	}
	if long := slenderness(m); long < thinWire {
		return nil, &NotWire{fmt.Sprintf("is no wire: it is only %.2g times as long as it is thick", long), "name the file of the wire's body"}
	}
	b := &WireBody{solid: solid}
	if b.Volume, err = headVolume(ctx, solid); err != nil {
		return nil, err
	}
	s, err := skeleton.Of(ctx, solid, cellSide(m))
	if err != nil {
		if stopped := ctx.Err(); stopped != nil {
			return nil, stopped
		}
		return nil, &NotWire{err.Error(), "is its unit right?"}
	}
	if err := b.trace(s, 4*m.Volume()/m.Area()); err != nil {
		return nil, err
	}
	return b, ctx.Err()
}

// mostCells is how many cells a body is long at most where it is cut into cells.
const mostCells = 1200

// cellSide is of the cells that show a wire: a tenth of its thickness, which is four
// times volume by surface of a round one.
func cellSide(m *geom.TriMesh) float64 {
	size := m.BoundingBox().Size()
	return math.Max(0.4*m.Volume()/m.Area(), math.Max(size.X, math.Max(size.Y, size.Z))/mostCells)
}

// trace takes the axis from a skeleton of a body that is about so thick.
func (b *WireBody) trace(s *skeleton.Skeleton, thick float64) error {
	shape := s.Shape()
	points := func(nodes []int) (ps []geom.Vec) {
		for _, n := range nodes {
			ps = append(ps, s.Nodes[n].At)
		}
		return ps
	}
	b.ring = inOrder(points(shape.Ring))
	for _, branch := range shape.Branches {
		b.barbs = append(b.barbs, points(branch))
	}
	b.Barbs = len(b.barbs)
	b.ring = middles(b.sections(b.ring, true, thick), b.ring)
	sections := b.sections(points(shape.Path), false, thick)
	if len(b.ring) > 0 {
		sections = b.outside(sections, thick)
	}
	if len(sections) < 3 {
		return &NotWire{"is no wire: its sections are not closed", "name the file of the wire's body"}
	}
	var areas []float64
	for _, c := range sections {
		areas = append(areas, c.area)
	}
	slices.Sort(areas)
	usual := areas[len(areas)/2]
	b.Wire = 2 * math.Sqrt(usual/math.Pi)
	sections = slices.DeleteFunc(sections, func(c round) bool { return c.area > jointShare*usual })
	if len(sections) < 3 {
		return &NotWire{"is no wire: its sections differ too much", "name the file of the wire's body"}
	}
	b.Thinnest = math.Inf(1)
	end := shape.Tip
	for _, c := range sections {
		if c.narrow < b.Thinnest && c.at.Dist(end) > pointLength*b.Wire {
			b.Thinnest, b.FlatAt = c.narrow, c.at
		}
	}
	axis := middles(sections, nil)
	if len(shape.Ring) == 0 {
		axis = append([]geom.Vec{beyond(axis[1], axis[0], shape.Start)}, axis...)
	}
	n := len(axis)
	b.dense = append(axis, beyond(axis[n-2], axis[n-1], shape.Tip))
	b.axis = thinned(b.dense, axisOff)
	return nil
}

const (
	jointShare  = 1.1  // of the usual section: larger ones have something else joined to the wire
	pointLength = 5.0  // of a wire's end that may be ground to a point, in wires
	axisOff     = 0.02 // how far the axis is taken off its middle, mm
)

// round is a section of a wire.
type round struct {
	at     geom.Vec
	area   float64
	narrow float64 // the least width through the middle
}

// sections cuts the body across an axis at each of its points, but at its ends; what
// is no plain section, as at a joint, is left out.
func (b *WireBody) sections(axis []geom.Vec, closed bool, thick float64) (list []round) {
	n := len(axis)
	for i, p := range axis {
		if !closed && (i == 0 || i == n-1) {
			continue
		}
		along := axis[(i+1)%n].Sub(axis[(i+n-1)%n]).Unit()
		if c, ok := b.section(p, along, 1.5*thick); ok && c.at.Dist(p) < thick/2 {
			list = append(list, c)
		}
	}
	return list
}

// outside are the sections that are clear of the eye's ring.
func (b *WireBody) outside(list []round, thick float64) []round {
	eye, reach := meanOf(b.ring), 0.0
	for _, p := range b.ring {
		reach = math.Max(reach, p.Dist(eye))
	}
	return slices.DeleteFunc(list, func(c round) bool { return c.at.Dist(eye) < reach+0.8*thick })
}

// middles are those of sections, or without any what is given instead.
func middles(list []round, instead []geom.Vec) (ps []geom.Vec) {
	for _, c := range list {
		ps = append(ps, c.at)
	}
	if len(ps) < 3 && instead != nil {
		return instead
	}
	return ps
}

// beyond goes on from a to b as far as an end reaches.
func beyond(a, b, end geom.Vec) geom.Vec {
	way := b.Sub(a).Unit()
	return b.Add(way.Mul(math.Max(1e-3, end.Sub(b).Dot(way))))
}

// section cuts the body across a direction; false where it reaches farther than
// reach from there, as at a joint.
func (b *WireBody) section(at, along geom.Vec, reach float64) (round, bool) {
	u, v := besides(along)
	hits, ok := b.rays(at, u, v, reach, true)
	if !ok {
		return round{}, false
	}
	c := round{at: at.Add(middleOf(hits, u, v)), narrow: math.Inf(1)}
	for i, hit := range hits { // by sectors, which is exact for a circle
		c.area += math.Pi / rays * hit.Dot(hit)
		if i >= rays/2 {
			continue
		}
		c.narrow = math.Min(c.narrow, hits[i].Norm()+hits[i+rays/2].Norm())
	}
	return c, true
}

// rays is how many ways are looked from a place across a wire or an eye's opening.
const rays = 32

// rays looks from a place along the plane of u and v for where the body ends
// (inside) or begins, no farther than reach, and returns those places in u and v.
func (b *WireBody) rays(at, u, v geom.Vec, reach float64, inside bool) ([]geom.Vec2, bool) {
	side := 1.0
	if inside {
		side = -1
	}
	hits := make([]geom.Vec2, rays)
	for i := range hits {
		sin, cos := math.Sincos(fullTurn * float64(i) / rays)
		way := u.Mul(cos).Add(v.Mul(sin))
		found := false
		on := func(t float64) float64 { return side * b.solid.Evaluate(at.Add(way.Mul(t))) }
		start := on(0)
		if start <= 0 {
			return nil, false
		}
		for t, d := range geom.March(on, 0, reach, start, 1e-3) {
			if d <= 1e-3 {
				hits[i], found = geom.Vec2{X: t * cos, Y: t * sin}, true
				break
			}
		}
		if !found {
			return nil, false
		}
	}
	return hits, true
}

// besides are two unit vectors at right angles to a direction and each other, that
// make a right-handed set with it as the third.
func besides(n geom.Vec) (u, v geom.Vec) {
	back := geom.Upright(n).Inverse()
	return back.Direction(geom.Vec{X: 1}), back.Direction(geom.Vec{Y: 1})
}

// middleOf is how far the middle of a polygon's area is from its origin.
func middleOf(ps []geom.Vec2, u, v geom.Vec) geom.Vec {
	var sum geom.Vec2
	twice := 0.0
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		w := p.Cross(q)
		sum, twice = sum.Add(p.Add(q).Mul(w)), twice+w
	}
	sum = sum.Mul(1 / (3 * twice))
	return u.Mul(sum.X).Add(v.Mul(sum.Y))
}

// inOrder puts places that lie round a ring in their order.
func inOrder(ps []geom.Vec) []geom.Vec {
	if len(ps) < 3 {
		return nil
	}
	c := meanOf(ps)
	n := normalOf(ps, c)
	u, v := besides(n)
	angle := func(p geom.Vec) float64 { return math.Atan2(p.Sub(c).Dot(v), p.Sub(c).Dot(u)) }
	return slices.SortedStableFunc(slices.Values(ps), func(p, q geom.Vec) int { return cmp.Compare(angle(p), angle(q)) })
}

// normalOf is of the plane in which places lie round another: across the way to
// the farthest and the way that is most across that.
func normalOf(ps []geom.Vec, c geom.Vec) geom.Vec {
	var far, most geom.Vec
	for _, p := range ps {
		if d := p.Sub(c); d.Norm() > far.Norm() {
			far = d
		}
	}
	for _, p := range ps {
		if x := far.Cross(p.Sub(c)); x.Norm() > most.Norm() {
			most = x
		}
	}
	return most.Unit()
}

// areaOf is the vector area inside a closed way (Newell's method): half the sum of
// the cross products of its points, seen from c.
func areaOf(ps []geom.Vec, c geom.Vec) (sum geom.Vec) {
	for i, p := range ps {
		sum = sum.Add(p.Sub(c).Cross(ps[(i+1)%len(ps)].Sub(c)))
	}
	return sum.Mul(0.5)
}

func meanOf(ps []geom.Vec) (sum geom.Vec) {
	for _, p := range ps {
		sum = sum.Add(p)
	}
	return sum.Mul(1 / float64(len(ps)))
}

// thinned leaves out what is no farther than off from the straight way between what
// stays (Douglas & Peucker, 1973).
func thinned(ps []geom.Vec, off float64) []geom.Vec {
	worst, at := off, -1
	a, b := ps[0], ps[len(ps)-1]
	for i := 1; i < len(ps)-1; i++ {
		if d := fromStretch(ps[i], a, b); d > worst {
			worst, at = d, i
		}
	}
	if at < 0 {
		return []geom.Vec{a, b}
	}
	left := thinned(ps[:at+1], off)
	return append(left[:len(left)-1:len(left)-1], thinned(ps[at:], off)...)
}

// fromStretch is how far a point is from a straight stretch.
func fromStretch(p, a, b geom.Vec) float64 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/l))
	}
	return p.Dist(a.Lerp(b, t))
}
