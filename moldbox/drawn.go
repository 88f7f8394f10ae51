package moldbox

import (
	"context"

	"halfpour/geom"
	"halfpour/geom/column"
)

// Drawn says how one half of a head comes out of its rubber, and its print did
// before: what lies under an overhang pushes the rubber aside.
type Drawn struct {
	Half   string   // "left" or "right"
	Depth  float64  // the greatest that the rubber has to give way, mm, near the limit measured on the head, else to about a step of the map; 0 when nothing hangs over
	At     geom.Vec // where the head reaches in that far, mold coordinates
	HeadAt geom.Vec // the same place in the head file's coordinates
	Map    DepthMap
}

// DepthMap is a depth over each point of a square grid in the parting plane.
type DepthMap struct {
	Least  geom.Vec  // the point with the least x and y, mold coordinates
	Step   float64   // mm
	NX, NY int       // points along x and y
	Depths []float32 // mm, good to about a step; index j*NX + i
}

// BestParting is the parting at which the greater undercut of both halves is
// least.
type BestParting struct {
	Parting float64 // as head.parting in the head's file
	Depth   float64 // the greatest there, mm, to about shapeStep
}

// easyDraw is the undercut from which on a better parting is looked for, mm.
const easyDraw = 2 * shapeStep

// bestParting looks through all that leaves something of the head to each half.
func (s *shapeCheck) bestParting(ctx context.Context, c *column.Grid) (BestParting, error) {
	z := s.part.headBox
	from, depth, err := c.LeastUndercut(ctx, z.Min.Z+leastBehind, z.Max.Z-leastBehind)
	return BestParting{s.part.partingAt(from), depth}, err
}

// drawn takes over what was found of one half.
func (s *shapeCheck) drawn(c *column.Grid, u column.Undercut, half string) *Drawn {
	d := &Drawn{Half: half, Depth: u.Depth, Map: DepthMap{c.At(0, 0, 0), c.Step, c.NX, c.NY, u.Map}}
	if u.Depth > 0 {
		d.At, d.HeadAt = u.At, *s.part.inFile(u.At)
	}
	return d
}

// moved is d for a cavity that is alike and stands elsewhere.
func (d *Drawn) moved(by geom.Vec) *Drawn {
	e := *d
	e.At, e.Map.Least = d.At.Add(by), d.Map.Least.Add(by)
	return &e
}
