package making

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"io"
	"math"
	"slices"
	"strings"

	"halfpour/geom"
	"halfpour/geom/picture"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// ErrNoHead says that there is no head to draw: its file could not be read.
var ErrNoHead = errors.New("no head could be read")

// WriteLyingPicture draws how the head, the hook, the parting plane and the gate
// of a mold lie to each other, as PNG, whatever else is wrong with them: of the
// first mold that failed or says stop, else of the first. The run must have
// been opened.
func (r *Run) WriteLyingPicture(ctx context.Context, w io.Writer) error {
	m := r.Molds[0]
	for _, other := range r.Molds {
		if !other.opened || other.Says(moldbox.Stop) {
			m = other
			break
		}
	}
	return m.writeLyingPicture(ctx, w)
}

// The colours of what the other pictures do not show.
var (
	cutColour   = color.RGBA{R: 0xe2, G: 0xe4, B: 0xe8, A: 0xff}
	axisColours = [3]color.RGBA{{R: 0xc0, G: 0x40, B: 0x40, A: 0xff}, {R: 0x40, G: 0x90, B: 0x40, A: 0xff}, {R: 0x40, G: 0x60, B: 0xc0, A: 0xff}}
)

// lyingScene is a cavity as it lies, in the hook's plane.
type lyingScene struct {
	moldbox.Lying
	mold   *Mold
	cavity int
	head   *geom.TriMesh
	size   float64 // of all of it
	box    geom.Box
	meshes []picture.PaintedMesh
	labels []picture.Label
}

func (m *Mold) writeLyingPicture(ctx context.Context, w io.Writer) error {
	if len(m.spec.Cavities) == 0 {
		return ErrNoHead
	}
	s, err := m.lyingScene(ctx)
	if err != nil {
		return err
	}
	side, err := s.fromTheLeft(ctx)
	if err != nil {
		return err
	}
	oblique, err := s.fromTheFront(ctx)
	if err != nil {
		return err
	}
	both := image.NewRGBA(image.Rect(0, 0, pictureWidth, 2*lyingHeight))
	draw.Draw(both, image.Rect(0, 0, pictureWidth, lyingHeight), side, image.Point{}, draw.Src)
	draw.Draw(both, image.Rect(0, lyingHeight, pictureWidth, 2*lyingHeight), oblique, image.Point{}, draw.Src)
	return picture.WritePNG(w, both)
}

const lyingHeight = 760 // of each of the two views, pixels

// lyingScene lays out the first cavity with a finding that says stop, else the
// first: at its size in the mold or, where none was made, as modelled.
func (m *Mold) lyingScene(ctx context.Context) (*lyingScene, error) {
	s := &lyingScene{mold: m}
	for i, v := range m.spec.Cavities {
		if m.stops(v.Name) {
			s.cavity = i
			break
		}
	}
	v := m.spec.Cavities[s.cavity]
	scale := v.Scale
	if m.Solids != nil {
		scale = m.Solids.Cavities[s.cavity].Scale
	}
	s.Lying = v.Lie(scale)
	s.head = m.cavityHeads()[s.cavity].Transform(s.FromFile.Point, false)
	s.box = s.head.BoundingBox()
	for i, wire := range s.Wires {
		if err := s.add(ctx, wire, pourplan.WireColour); err != nil {
			return nil, err
		}
		s.box = s.box.Union(s.meshes[i].Mesh.BoundingBox())
	}
	s.addHooksApart()
	s.size = s.box.Size().Norm()
	if err := s.addEye(ctx); err != nil {
		return nil, err
	}
	if err := s.addGate(ctx); err != nil {
		return nil, err
	}
	s.nameSides()
	return s, s.addFindings(ctx)
}

// stops reports whether a finding of a cavity says stop.
func (m *Mold) stops(cavity string) bool {
	for _, f := range m.Findings {
		if f.Severity == moldbox.Stop && f.Cavity == cavity {
			return true
		}
	}
	return false
}

// add draws a solid.
func (s *lyingScene) add(ctx context.Context, solid geom.Solid, colour color.RGBA) error {
	mesh, err := geom.Mesh(ctx, solid, geom.MeshOptions{Tolerance: metalTolerance})
	if err == nil {
		s.meshes = append(s.meshes, picture.PaintedMesh{Mesh: mesh, Colour: colour, Crease: pictureCrease})
	}
	return err
}

func (s *lyingScene) label(text string, at geom.Vec) {
	s.labels = append(s.labels, picture.Label{Text: text, At: at})
}

// addEye marks the eye as given where it is beside the plane that the hook lies in.
func (s *lyingScene) addEye(ctx context.Context) error {
	hook := s.mold.spec.Cavities[s.cavity].Hook
	if hook == nil {
		return nil
	}
	if math.Abs(s.Eye.Z) < 0.1 {
		s.label("eye", geom.Vec{Y: hook.EyeInside/2 + hook.Wire + 0.02*s.size})
		return nil
	}
	s.label("eye as given", s.Eye.Add(geom.Vec{Y: 0.035 * s.size}))
	return s.add(ctx, geom.Union(geom.Ball(s.Eye, s.size/80), geom.Capsule(geom.Vec{}, s.Eye, s.size/400)), markColours[moldbox.Stop])
}

// addGate points at the gate, from where metal comes.
func (s *lyingScene) addGate(ctx context.Context) error {
	at, up := s.Gate, geom.Vec{Y: 1}
	if m := s.mold.Solids; m != nil {
		c := m.Cavities[s.cavity]
		back := geom.Rotate(geom.Vec{Z: 1}, -m.Spec.Cavities[s.cavity].Turn)
		gate := back.Point(c.GateAt.Sub(c.Eye))
		at, up = &gate, back.Direction(up)
	}
	if at == nil {
		return nil
	}
	s.label("gate", at.Add(up.Mul(0.2*s.size)))
	s.box = s.box.Include(at.Add(up.Mul(0.2 * s.size)))
	return s.add(ctx, geom.Frustum(*at, at.Add(up.Mul(0.17*s.size)), s.size/300, s.size/30), pourplan.GateColour)
}

// nameSides says which way is which, as the job has it.
func (s *lyingScene) nameSides() {
	head := s.head.BoundingBox()
	mid, off := head.Centre(), 0.05*s.size
	s.label("nose", geom.Vec{X: head.Min.X - off/2, Y: mid.Y - 1.5*off, Z: mid.Z}) // beside a gate there
	s.label("back", geom.Vec{X: mid.X, Y: head.Max.Y + off/2, Z: mid.Z})
	s.label("belly", geom.Vec{X: mid.X, Y: head.Min.Y - off/2, Z: mid.Z})
}

// addFindings marks the places of findings of the cavity, by their codes.
func (s *lyingScene) addFindings(ctx context.Context) error {
	name := s.mold.spec.Cavities[s.cavity].Name
	told := map[string]bool{}
	for _, f := range s.mold.Findings {
		if f.Severity == moldbox.Note || f.HeadAt == nil || f.Cavity != name || told[f.Code] {
			continue
		}
		told[f.Code] = true
		at := s.FromFile.Point(*f.HeadAt)
		s.label(fmt.Sprintf("%s: %s", f.Severity, f.Code), s.free(at))
		if err := s.add(ctx, geom.Ball(at, s.size/70), markColours[f.Severity]); err != nil {
			return err
		}
	}
	return nil
}

// free is a place for the label of a mark: under it, and under the labels there.
func (s *lyingScene) free(mark geom.Vec) geom.Vec {
	line := geom.Vec{Y: 0.035 * s.size}
	at := mark.Sub(line)
	for slices.ContainsFunc(s.labels, func(l picture.Label) bool {
		return math.Abs(l.At.X-at.X) < 6*line.Y && math.Abs(l.At.Y-at.Y) < 0.9*line.Y
	}) {
		at = at.Sub(line.Mul(0.5))
	}
	return at
}

// addHooksApart draws bodies in the head's file that the job leaves out, though they look
// like hooks.
func (s *lyingScene) addHooksApart() {
	c := s.mold.Job.Placed()[s.cavity]
	h := s.mold.heads[c.Head.File]
	if len(c.CheckHookApart(h.Hooks)) == 0 {
		return
	}
	for _, hook := range h.Hooks {
		mesh := hook.Transform(geom.Scale(c.Head.MMPerUnit()).Then(s.FromFile).Point, false)
		s.meshes = append(s.meshes, picture.PaintedMesh{Mesh: mesh, Colour: markColours[moldbox.Stop], Crease: pictureCrease})
		s.box = s.box.Union(mesh.BoundingBox())
	}
}

// fromTheLeft looks square at the plane, in which the head is cut open.
func (s *lyingScene) fromTheLeft(ctx context.Context) (image.Image, error) {
	head := picture.PaintedMesh{Mesh: s.head, Colour: pourplan.MetalColour, Crease: pictureCrease}
	what := "the head cut open where the halves meet, seen from its left"
	if b := s.head.BoundingBox(); b.Min.Z < 0 && b.Max.Z > 0 {
		head.Cut = &picture.Cut{N: geom.Vec{Z: 1}, Colour: cutColour, Hatch: picture.HatchUp}
	} else {
		what = "the head lies beside the parting plane; seen from its left"
	}
	return s.render(ctx, head, picture.Camera{Look: geom.Vec{Z: -1}, Up: geom.Vec{Y: 1}, Margin: 2 * pictureMargin}, s.caption(what))
}

// fromTheFront shows the whole head, and the plane as a frame.
func (s *lyingScene) fromTheFront(ctx context.Context) (image.Image, error) {
	b, off := s.box, 0.08*s.size
	corner := func(x, y float64) geom.Vec { return geom.Vec{X: x, Y: y} }
	low, high := b.Min.Sub(geom.Vec{X: off, Y: off}), b.Max.Add(geom.Vec{X: off, Y: off})
	frame := geom.Wire([]geom.Vec{corner(low.X, low.Y), corner(high.X, low.Y), corner(high.X, high.Y), corner(low.X, high.Y), corner(low.X, low.Y)}, s.size/250)
	meshes, labels := s.meshes, s.labels
	defer func() { s.meshes, s.labels = meshes, labels }()
	if err := s.add(ctx, frame, pourplan.PlaneColour); err != nil {
		return nil, err
	}
	s.label("parting plane", corner(high.X-0.12*s.size, high.Y+off/3))
	s.label("left", geom.Vec{X: s.head.BoundingBox().Centre().X, Y: s.head.BoundingBox().Centre().Y, Z: s.head.BoundingBox().Max.Z + off})
	head := picture.PaintedMesh{Mesh: s.head, Colour: pourplan.MetalColour, Crease: pictureCrease}
	camera := picture.Camera{Look: geom.Vec{X: 0.75, Y: -0.5, Z: -1}, Up: geom.Vec{Y: 1}, Perspective: picturePerspective, Margin: 2 * pictureMargin}
	return s.render(ctx, head, camera, "from the nose, the left and above; blue: the parting plane; x, y, z: the axes of the head's file")
}

// render draws a view, with the axes of the head's file in its corner.
func (s *lyingScene) render(ctx context.Context, head picture.PaintedMesh, camera picture.Camera, caption string) (image.Image, error) {
	scene := picture.Scene{
		Meshes: append([]picture.PaintedMesh{head}, s.meshes...), Labels: append([]picture.Label{}, s.labels...),
		Camera: camera, Caption: caption, Width: pictureWidth, Height: lyingHeight, Background: paper,
	}
	long := 0.11 * s.size
	origin := geom.Vec{X: s.box.Min.X - 0.12*s.size, Y: s.box.Min.Y}
	for i, e := range []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		tip := origin.Add(s.FromFile.Direction(e).Unit().Mul(long))
		arrow := geom.Union(geom.Capsule(origin, tip, s.size/300), geom.Frustum(tip.Lerp(origin, 0.25), tip, s.size/100, s.size/1000))
		mesh, err := geom.Mesh(ctx, arrow, geom.MeshOptions{Tolerance: metalTolerance})
		if err != nil {
			return nil, err
		}
		scene.Meshes = append(scene.Meshes, picture.PaintedMesh{Mesh: mesh, Colour: axisColours[i], Crease: pictureCrease})
		scene.Labels = append(scene.Labels, picture.Label{Text: string("xyz"[i]), At: tip.Add(tip.Sub(origin).Mul(0.2))})
	}
	return picture.Render(ctx, scene)
}

// caption names the cavity and its size.
func (s *lyingScene) caption(what string) string {
	m := s.mold
	size := "as modelled"
	if m.Solids != nil {
		size = fmt.Sprintf("modelled size × %.2f", m.Solids.Cavities[s.cavity].Scale)
	}
	names := []string{m.Job.Title, m.spec.Cavities[s.cavity].Name, size}
	names = slices.DeleteFunc(names, func(s string) bool { return s == "" })
	what = strings.Join(names, ", ") + ": " + what
	for _, f := range m.Findings { // that no place shows
		if f.Severity == moldbox.Stop && f.HeadAt == nil && f.Cavity == m.spec.Cavities[s.cavity].Name {
			what += "; stop: " + f.Code
		}
	}
	return what
}
