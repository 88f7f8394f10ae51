package moldbox

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/skeleton"
)

// HookBody is a hook as it is drawn in CAD, and what is measured of it: mm, places
// and directions in the file's axes.
type HookBody struct {
	*WireBody
	Eye       geom.Vec // the middle of its opening
	EyeInside float64  // the least width of the opening
	EyeTurned float64  // how far the eye's ring is turned out of the hook's plane, radians
	Leg       float64  // from the eye's centre to the shank's axis
	Shank     float64  // its straight length
	Gape      float64  // from the shank's axis to that of the point, at its widest
	Tail      geom.Vec // along the shank, away from the eye
	Back      geom.Vec // from the shank to the point
	OffPlane  float64  // how far its axis lies off its own plane, mm

	Foot geom.Vec // of the eye on the shank's axis

	hole    []geom.Vec2 // the eye's opening, from its middle, in across and up
	ringWay [3]geom.Vec // of the ring: across, up, and its normal
}

// MeasureHook looks at a body that is a hook: a wire with an eye. It fails with a
// NotWire, or as its context.
func MeasureHook(ctx context.Context, m *geom.TriMesh) (*HookBody, error) {
	w, err := MeasureWire(ctx, m)
	if err != nil {
		return nil, err
	}
	b := &HookBody{WireBody: w}
	if len(b.ring) == 0 {
		return nil, &NotWire{"has no eye: nothing of it is a closed ring", "close the eye's ring in your CAD program and export the hook again"}
	}
	if err := b.measureEye(); err != nil {
		return nil, err
	}
	return b, b.measureShank()
}

// LikeWire reports whether a shell of a mesh is long for its thickness, as a wire, the ring
// of an eye or the cone of a point is.
func LikeWire(shell *geom.TriMesh) bool { return shell.Volume() > 0 && slenderness(shell) > thinWire }

// roundWire is how thick the body of a wire is at least where it is thinnest, of its usual
// diameter: a fin or a plate is thinner.
const roundWire = 0.5

// LongWire says how many times longer than thick a shell of a mesh is, where it is a wire
// without an eye and so long that it is hardly a part of a head; else 0.
func LongWire(ctx context.Context, shell *geom.TriMesh) float64 {
	if !(shell.Volume() > 0) || slenderness(shell) < thinShare {
		return 0
	}
	b, err := MeasureWire(ctx, shell)
	if err != nil || len(b.ring) > 0 || b.Thinnest < roundWire*b.Wire {
		return 0
	}
	return slenderness(shell)
}

// joinedBy is the radius of the fillet with which the shells of a wire are joined, of their
// thickness: it bridges those that only touch.
const joinedBy = 0.06

// joinedOff is the tolerance of the joined mesh, of the greatest thickness.
const joinedOff = 0.015

// JoinWires returns one shell of several that touch or overlap each other. Those that do
// not stay shells of the mesh. The error is the context's, or says what is no solid.
func JoinWires(ctx context.Context, shells []*geom.TriMesh) (*geom.TriMesh, error) {
	least, most := math.Inf(1), 0.0 // thickness
	for _, shell := range shells {
		thick := 4 * shell.Volume() / shell.Area()
		least, most = math.Min(least, thick), math.Max(most, thick)
	}
	joined := geom.Union()
	for _, shell := range shells {
		solid, err := geom.NewMeshSolid(shell)
		if err != nil {
			return nil, err
		}
		joined = geom.SmoothUnion(joinedBy*least, joined, solid)
	}
	return geom.Mesh(ctx, joined, geom.MeshOptions{Tolerance: joinedOff * most})
}

// LikeHook reports whether a shell of a mesh looks like a hook: much longer than it
// is thick, with one hole through it, and a wire from there that is longer than the
// way round the hole.
func LikeHook(ctx context.Context, shell *geom.TriMesh) bool {
	if !(shell.Volume() > 0) || slenderness(shell) < thinShare || geom.TopologyOf(shell).Handles != 1 {
		return false
	}
	solid, err := geom.NewMeshSolid(shell)
	if err != nil {
		return false
	}
	s, err := skeleton.Of(ctx, solid, cellSide(shell))
	if err != nil {
		return false
	}
	shape := s.Shape()
	return len(shape.Ring) > 0 && len(shape.Path) > len(shape.Ring)
}

// measureEye finds the middle of the opening and how wide it is.
func (b *HookBody) measureEye() error {
	b.Eye = meanOf(b.ring)
	n := areaOf(b.ring, b.Eye).Unit()
	u, v := besides(n)
	b.ringWay = [3]geom.Vec{u, v, n}
	reach := 0.0
	for _, p := range b.ring {
		reach = math.Max(reach, p.Dist(b.Eye))
	}
	for range 4 {
		hits, ok := b.rays(b.Eye, u, v, 2*reach, false)
		if !ok {
			return &NotWire{"has a ring without an opening", "is its eye closed?"}
		}
		b.Eye, b.hole = b.Eye.Add(middleOf(hits, u, v)), hits
	}
	b.EyeInside = math.Inf(1)
	for i := range rays / 2 {
		b.EyeInside = math.Min(b.EyeInside, b.hole[i].Norm()+b.hole[i+rays/2].Norm())
	}
	return nil
}

// straightOff is how far the axis of the shank may leave a straight line, in wires.
const straightOff = 0.03

// measureShank finds the longest straight stretch and, from it, how the hook lies.
func (b *HookBody) measureShank() error {
	axis := append([]geom.Vec{b.Eye}, b.axis...)
	from, to := 0, 0
	for i := range axis {
		for j := i + 1; j < len(axis) && straight(axis[i:j+1], straightOff*b.Wire); j++ {
			if axis[i].Dist(axis[j]) > axis[from].Dist(axis[to]) {
				from, to = i, j
			}
		}
	}
	b.Shank = axis[from].Dist(axis[to])
	on, err := b.lineAlong(axis[from], axis[to])
	if err != nil {
		return err
	}
	fromShank := func(p geom.Vec) geom.Vec {
		d := p.Sub(on)
		return d.Sub(b.Tail.Mul(d.Dot(b.Tail)))
	}
	for _, p := range axis[to:] {
		if off := fromShank(p); off.Norm() > b.Gape {
			b.Gape, b.Back = off.Norm(), off.Unit()
		}
	}
	if b.Gape < 2*b.Wire {
		return &NotWire{"is no hook: no bend brings its end back beside the shank", "name the file of the hook's body"}
	}
	n := b.normal()
	eye := fromShank(b.Eye)
	b.Foot = b.Eye.Sub(eye)
	if b.Leg = eye.Norm(); b.Leg < b.Wire {
		b.Leg = 0
	}
	b.EyeTurned = math.Acos(math.Min(1, math.Abs(b.ringWay[2].Dot(n))))
	for _, p := range b.axis {
		b.OffPlane = math.Max(b.OffPlane, math.Abs(p.Sub(b.Eye).Dot(n)))
	}
	return nil
}

// lineAlong lays a line through the axis between two places, their bends left out, and
// returns a point of it. Its direction, from one half's middle to the other's, is Tail.
func (b *HookBody) lineAlong(from, to geom.Vec) (geom.Vec, error) {
	way, long := to.Sub(from).Unit(), to.Dist(from)
	var halves [2][]geom.Vec
	for _, p := range b.dense {
		if t := p.Sub(from).Dot(way); t > b.Wire && t < long-b.Wire && fromStretch(p, from, to) < b.Wire/2 {
			k := int(2 * t / long)
			halves[k] = append(halves[k], p)
		}
	}
	if len(halves[0]) == 0 || len(halves[1]) == 0 {
		return geom.Vec{}, &NotWire{"is no hook: it has no straight shank", "name the file of the hook's body"}
	}
	a, c := meanOf(halves[0]), meanOf(halves[1])
	b.Tail = c.Sub(a).Unit()
	return a, nil
}

// normal is of the hook's plane, to its left.
func (b *HookBody) normal() geom.Vec { return b.Tail.Cross(b.Back) }

func straight(ps []geom.Vec, off float64) bool {
	for _, p := range ps {
		if fromStretch(p, ps[0], ps[len(ps)-1]) > off {
			return false
		}
	}
	return true
}

// String says what was measured.
func (b *HookBody) String() string {
	s := fmt.Sprintf("wire %.2f mm, eye %.2f mm inside", b.Wire, b.EyeInside)
	if b.EyeTurned > math.Pi/4 {
		s += ", across"
	}
	if b.Leg > 0 {
		s += fmt.Sprintf(", leg %.2f mm", b.Leg)
	}
	s += fmt.Sprintf(", shank %.1f mm, gape %.1f mm", b.Shank, b.Gape)
	if b.Thinnest < 0.9*b.Wire {
		s += fmt.Sprintf(", pressed flat to %.2f mm", b.Thinnest)
	}
	switch b.Barbs {
	case 0:
	case 1:
		s += ", 1 barb"
	default:
		s += fmt.Sprintf(", %d barbs", b.Barbs)
	}
	return s
}
