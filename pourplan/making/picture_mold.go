package making

import (
	"cmp"
	"context"
	"image/color"
	"io"
	"math"

	"halfpour/geom"
	"halfpour/geom/picture"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

const underBrim = 1.0 // how far metal stands below the mouths, mm

// How true metal and wires are shown, mm; where frames are no truer than that, a look's
// tolerance is that of all.
const metalTolerance, wireTolerance = 0.08, 0.05

// Bodies are what is in the closed mold beside rubber, as pictures and page show it.
func (m *Mold) Bodies() *moldbox.Bodies {
	m.bodiesOnce.Do(func() {
		least := 0.0
		if m.Rough {
			least = m.Proof.Left.Tolerance / 2
		}
		m.bodies = moldbox.NewBodies(cmp.Or(m.Coarse, m.Solids), math.Max(metalTolerance, least), math.Max(wireTolerance, least/2))
	})
	return m.bodies
}

// moldPicture is the scene of the closed mold while it is put together.
type moldPicture struct {
	*Mold
	picture.Scene
	cut int // the cavity that the left half is cut through
}

// WriteMoldPicture draws the closed mold in section, as PNG: the left half cut through a
// cavity along its sprue, the right half through keys at its end. The cavity
// that is cut is empty but for its wires, those in front of it are cast.
func (m *Mold) WriteMoldPicture(ctx context.Context, w io.Writer) error {
	s := moldPicture{Mold: m, cut: cavityToCut(m.Solids)}
	s.Caption = m.caption("closed mold, the left half cut through a cavity", m.Solids.Block.BoundingBox())
	s.Camera = picture.Camera{Look: geom.Vec{X: -1, Y: -0.36, Z: -0.56}, Up: geom.Vec{Y: 1}, Perspective: picturePerspective, Margin: pictureMargin}
	s.addRubber()
	foot, rubber := m.Solids.Left.Inside.Min.Y, len(s.Meshes)
	if err := s.addCastings(ctx); err != nil {
		return err
	}
	if lowest(s.Meshes[rubber:]) >= foot { // no hook hangs out below
		s.Floor = &picture.Floor{N: geom.Vec{Y: 1}, D: foot}
	}
	return m.writePicture(ctx, w, s.Scene)
}

// lowest is the least Y of meshes.
func lowest(meshes []picture.PaintedMesh) float64 {
	low := math.Inf(1)
	for _, m := range meshes {
		low = math.Min(low, m.Mesh.BoundingBox().Min.Y)
	}
	return low
}

// cavityToCut is the one whose gate is nearest the mold's middle.
func cavityToCut(m *moldbox.Mold) int {
	middle, best, at := m.Left.Inside.Centre().X, math.Inf(1), 0
	for i, c := range m.Cavities {
		if d := math.Abs(c.GateAt.X - middle); d < best {
			best, at = d, i
		}
	}
	return at
}

func (s *moldPicture) addRubber() {
	keys := math.Inf(-1)
	for _, k := range s.Solids.Keys {
		keys = math.Max(keys, k.At.X)
	}
	for i, at := range [2]float64{s.Solids.Cavities[s.cut].GateAt.X, keys} {
		s.Meshes = append(s.Meshes, picture.PaintedMesh{
			Mesh: s.Rubber[i].Transform(s.Solids.Halves()[i].InMold().Point, false), Colour: pourplan.RubberColours[i], Crease: pictureCrease,
			Cut: &picture.Cut{N: geom.Vec{X: 1}, D: at, Colour: pourplan.RubberCuts[i], Hatch: [2]picture.Hatch{picture.HatchUp, picture.HatchDown}[i]},
		})
	}
}

// addCastings adds the metal and the wires of all cavities, meshed once for
// cavities that are alike. Behind the cut no more than the sprues are seen.
func (s *moldPicture) addCastings(ctx context.Context) error {
	bodies, sprues := s.Bodies(), map[int]*geom.TriMesh{}
	for i, c := range s.Solids.Cavities {
		first := s.Solids.Cavities[c.AlikeTo]
		move := geom.Move(c.Eye.Sub(first.Eye))
		if i != s.cut {
			metal, err := sprues[c.AlikeTo], error(nil)
			if c.Metal.BoundingBox().Max.X >= s.Solids.Cavities[s.cut].GateAt.X {
				metal, err = bodies.Metal(ctx, i)
			} else if metal == nil {
				metal, err = geom.Mesh(ctx, first.Sprue, geom.MeshOptions{Tolerance: metalTolerance})
				sprues[c.AlikeTo] = metal
			}
			if err != nil {
				return err
			}
			s.add(metal, move, pourplan.MetalColour)
		}
		wires, err := bodies.Wires(ctx, i)
		if err != nil {
			return err
		}
		if wires != nil {
			s.add(wires, move, pourplan.WireColour)
		}
	}
	if s.Solids.Runner == nil {
		return nil
	}
	metal, err := bodies.Metal(ctx, -1)
	if err == nil {
		s.add(metal, geom.Identity(), pourplan.MetalColour)
	}
	return err
}

// add draws a mesh where move takes it.
func (s *moldPicture) add(mesh *geom.TriMesh, move geom.Transform, colour color.RGBA) {
	s.Meshes = append(s.Meshes, picture.PaintedMesh{
		Mesh: mesh.Transform(move.Point, false), Colour: colour, Crease: pictureCrease,
		Cut: &picture.Cut{N: geom.Vec{Y: 1}, D: s.Solids.Left.Inside.Max.Y - underBrim, Colour: colour},
	})
}
