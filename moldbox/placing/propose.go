package placing

import (
	"context"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/moldbox"
)

// Hints are what is known besides the mesh; zero for what is not.
type Hints struct {
	Unit  string  // of the file: "mm", "cm", "m", "in" or "ft"
	Metal float64 // that the finished head is to hold, mm³
	Leg   float64 // of the hook, from its eye to the shank's axis, mm

	Keepers    int     // how many to look for, up to two
	KeeperWire float64 // diameter, mm; 0 takes usualKeeper
}

// Proposal is how a head may lie in its file. Lengths are mm, in the file's
// coordinates times its unit; places and directions are rounded.
type Proposal struct {
	Unit    string
	UnitWhy Reason
	Size    geom.Vec // along nose, back and left
	Volume  float64  // of the head as modelled, mm³

	Pose             moldbox.Pose
	NoseWhy, BackWhy Reason
	Plane            Plane // in which it mirrors; Pose has it rounded
	PlaneWhy         Reason

	// A second opinion on the parting: the greatest undercut there, and the
	// parting with the least, across the same plane.
	Undercut      float64
	LeastUndercut float64
	LeastAt       float64

	Wires int    // thin bodies in the file that were left out of this, as a hook is
	Rods  []Rod  // collars and bores, the shank's first
	Shank *Shank // nil when neither collar nor bore was found
	Eyes  []Eye  // the likeliest first, at least one

	// Scale is of the head to hold Hints.Metal, about the shank's axis; 1 without.
	Scale   float64
	Leg     float64        // from the first eye to the shank's axis, mm: what a hook needs
	Keepers [][][2]float64 // each its axis in the hook's plane from the first eye, x to the tail, y to the back, mm

	// What it was read off.
	surface *surface
	ends    ends
	hints   Hints
}

// Shank is the axis that the hook's shank is taken to lie on.
type Shank struct {
	At       geom.Vec // where the round part ends, at the tail
	Tail     geom.Vec // along it, out of the head
	Radius   float64  // of the collar or bore
	Bore     bool
	LegAngle float64 // to the leg's bore, radians; 0 when there is none
}

const (
	surfacePoints = 20000
	undercutLines = 100 // across the head
)

// Propose looks at the mesh of a head. The mesh must enclose a volume. The error
// is the context's, or geom's for a mesh that makes no solid.
func Propose(ctx context.Context, m *geom.TriMesh, hints Hints) (*Proposal, error) {
	out := &Proposal{Unit: hints.Unit, UnitWhy: Reason{Sure, "as given"}}
	box := m.BoundingBox().Size()
	if UnitMM(out.Unit) == 0 {
		out.Unit, out.UnitWhy = guessUnit(math.Max(box.X, math.Max(box.Y, box.Z)), m.Volume(), hints.Metal)
	}
	mm := UnitMM(out.Unit)
	if mm != 1 {
		m = m.Transform(func(v geom.Vec) geom.Vec { return v.Mul(mm) }, false)
	}
	out.Volume = m.Volume()
	m, out.Wires = withoutWires(m)
	solid, err := geom.NewMeshSolid(m)
	if err != nil {
		return nil, err
	}
	s := newSurface(m, solid, surfacePoints)
	planes, err := mirrorPlanes(ctx, s)
	if err != nil {
		return nil, err
	}
	out.Plane, out.PlaneWhy = s.choose(planes)
	rods := s.rods(out.Plane)
	e := s.faces(out.Plane, out.PlaneWhy, rods)
	out.NoseWhy, out.BackWhy, out.Rods = e.noseWhy, e.backWhy, rods
	out.surface, out.ends, out.hints = s, e, hints
	out.Pose = s.pose(out.Plane, e, mm)
	out.Size = sizeAlong(s, out.Pose)
	out.shankOf(e)
	out.Scale = 1
	if hints.Metal > 0 {
		out.Scale = math.Cbrt(hints.Metal / out.Volume)
	}
	for _, eye := range s.eyes(out.Plane, e, hints.Leg, out.Scale) {
		eye.At = roundPoint(onPose(out.Pose, eye.At), mm)
		out.Eyes = append(out.Eyes, eye)
	}
	out.Leg = math.Round(10*s.onPlane(out.Plane, out.Eyes[0].At).Sub(s.axisPoint(&e)).Dot(e.back)) / 10
	out.Keepers = s.keepers(out, e, hints)
	return out, out.secondOpinion(ctx, solid)
}

// pose is how the head faces, in round figures.
func (s *surface) pose(p Plane, e ends, mm float64) moldbox.Pose {
	w := round(p.Normal).Unit()
	pose := moldbox.Pose{Nose: round(e.nose.Sub(w.Mul(e.nose.Dot(w))).Unit())}
	back := w.Cross(pose.Nose)
	pose.Back = round(back.Mul(math.Copysign(1, back.Dot(e.back))))
	pose.Parting = roundLength(s.onPlane(p, s.mid).Dot(pose.Across()), mm)
	return pose
}

// onPose moves a place into the parting plane.
func onPose(p moldbox.Pose, v geom.Vec) geom.Vec {
	return v.Sub(p.Across().Mul(v.Dot(p.Across()) - p.Parting))
}

func (out *Proposal) shankOf(e ends) {
	if e.shank == nil {
		return
	}
	out.Shank = &Shank{At: e.shank.at, Tail: e.shank.way, Radius: e.shank.rod.Radius, Bore: e.shank.rod.Bore}
	if e.leg != nil {
		out.Shank.LegAngle = math.Acos(math.Max(-1, math.Min(1, e.leg.way.Dot(e.shank.way))))
	}
}

func sizeAlong(s *surface, p moldbox.Pose) geom.Vec {
	long := func(v geom.Vec) float64 {
		low, high := s.extent(v.Unit())
		return high - low
	}
	return geom.Vec{X: long(p.Nose), Y: long(p.Back), Z: long(p.Left())}
}

// secondOpinion looks for the parting with the least undercut.
func (out *Proposal) secondOpinion(ctx context.Context, solid geom.Solid) error {
	across := out.Pose.Across()
	step := math.Max(out.Size.X, out.Size.Y) / undercutLines
	grid, err := column.Cut(ctx, solid, column.Options{Up: across, Step: step})
	if err != nil {
		return err
	}
	for _, down := range []bool{false, true} {
		out.Undercut = math.Max(out.Undercut, grid.Undercut(column.Draw{From: out.Pose.Parting, Down: down}).Depth)
	}
	out.LeastAt, out.LeastUndercut, err = grid.LeastUndercut(ctx, out.Pose.Parting-out.Size.Z/2+step, out.Pose.Parting+out.Size.Z/2-step)
	if err == nil && out.Undercut > out.LeastUndercut+3*step && out.PlaneWhy.Trust == Sure {
		out.PlaneWhy.Trust = Likely
	}
	return err
}

// Bored reports whether the head has a bore for a hook, which is an undercut and
// has to be closed.
func (out *Proposal) Bored() bool {
	return slices.ContainsFunc(out.Rods, func(r Rod) bool { return r.Bore })
}
