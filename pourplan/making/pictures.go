package making

import (
	"bytes"
	"context"
	"fmt"
	"image/color"
	"io"
	"math"
	"slices"
	"sync"

	"halfpour/geom"
	"halfpour/geom/picture"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

const (
	pictureWidth, pictureHeight = 1400, 960

	pictureCrease      = 30 * math.Pi / 180
	picturePerspective = 25 * math.Pi / 180
	pictureMargin      = 0.04
)

// RoughTolerance is of a mold's frames, mm: coarser builds are for a look. They have
// pictures half as wide, no computed shot, and rubber measured to LookShare; their plan
// says so.
const RoughTolerance = 0.15

// Paper; what stands on it has the colours of pourplan.
var paper = color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}

// Halves lie with their mouths at the top of the picture, seen from above and so
// little from the near edge that the near wall hides no lettering beside it.
var lyingCamera = picture.Camera{
	Look: geom.Vec{X: 0.16, Y: 0.12, Z: -1.3}, Up: geom.Vec{Y: 1},
	Perspective: picturePerspective, Margin: pictureMargin,
}

// halfPicture is a picture of a half, of its frame or of its rubber. It may be drawn
// before its marks are sure, and is drawn again if they come out otherwise.
type halfPicture struct {
	mu    sync.Mutex
	marks []pourplan.FindingMark
	png   []byte // nil: not drawn yet
}

// drawEarly draws the pictures of a half with the marks of a plan.
func (m *Mold) drawEarly(ctx context.Context, half int, plan *pourplan.Plan) {
	if plan == nil {
		return
	}
	marks := pourplan.FindingMarks(plan.Findings, m.Solids.Halves()[half])
	for kind := range m.pictures[half] {
		_, _ = m.halfPicture(ctx, half, kind, marks) // a fault comes again when it is written
	}
}

// halfPicture is a half's picture with marks, drawn once.
func (m *Mold) halfPicture(ctx context.Context, half, kind int, marks []pourplan.FindingMark) ([]byte, error) {
	p := &m.pictures[half][kind]
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.png != nil && slices.Equal(p.marks, marks) {
		return p.png, nil
	}
	var out bytes.Buffer
	err := [2]func(context.Context, io.Writer, int, []pourplan.FindingMark) error{m.writeFrame, m.writeRubber}[kind](ctx, &out, half, marks)
	if err != nil {
		return nil, err
	}
	p.marks, p.png = marks, out.Bytes()
	return p.png, nil
}

// writeHalf writes a half's picture with the marks of the plan.
func (m *Mold) writeHalf(ctx context.Context, w io.Writer, half, kind int) error {
	var marks []pourplan.FindingMark
	if m.Plan != nil {
		marks = pourplan.FindingMarks(m.Plan.Findings, m.Solids.Halves()[half])
	}
	data, err := m.halfPicture(ctx, half, kind, marks)
	if err == nil {
		_, err = w.Write(data)
	}
	return err
}

// writePicture draws a scene on white as PNG. One at a time: a picture takes all processors
// and much memory by itself.
func (m *Mold) writePicture(ctx context.Context, w io.Writer, scene picture.Scene) error {
	m.drawing.Lock()
	defer m.drawing.Unlock()
	scene.Width, scene.Height, scene.Background = pictureWidth, pictureHeight, paper
	if m.Rough {
		scene.Width, scene.Height = scene.Width/2, scene.Height/2
	}
	img, err := picture.Render(ctx, scene)
	if err != nil {
		return err
	}
	return picture.WritePNG(w, img)
}

// WriteFramePicture draws the left (0) or right (1) frame as it stands on the
// printer, as PNG.
func (m *Mold) WriteFramePicture(ctx context.Context, w io.Writer, i int) error {
	return m.writeHalf(ctx, w, i, 0)
}

func (m *Mold) writeFrame(ctx context.Context, w io.Writer, i int, marks []pourplan.FindingMark) error {
	half := m.Solids.Halves()[i]
	scene := picture.Scene{
		Meshes:  []picture.PaintedMesh{{Mesh: m.Frames[i], Colour: pourplan.TrayColours[i], Crease: pictureCrease}},
		Camera:  lyingCamera,
		Floor:   lyingOn(half.Outside.Min.Z),
		Caption: m.caption(half.Name+" frame", half.Outside),
	}
	if err := addMarks(ctx, &scene, marks, half, geom.Identity(), half.FillHeight); err != nil {
		return err
	}
	return m.writePicture(ctx, w, scene)
}

// caption names what is shown, with the size of its box.
func (m *Mold) caption(what string, box geom.Box) string {
	const inch = 25.4
	size := box.Size()
	return fmt.Sprintf("%s: %s, %.1f × %.1f × %.1f mm (%.2f × %.2f × %.2f in)",
		m.Job.Title, what, size.X, size.Y, size.Z, size.X/inch, size.Y/inch, size.Z/inch)
}

// lyingOn is the table under what reaches down to z.
func lyingOn(z float64) *picture.Floor { return &picture.Floor{N: geom.Vec{Z: 1}, D: z} }

// faceUp turns a half over, from its frame onto the table.
var faceUp = geom.FromAxes(geom.Vec{X: -1}, geom.Vec{Y: 1}, geom.Vec{Z: -1})

// WriteRubberPicture draws the left (0) or right (1) rubber half out of its frame,
// the parting face up, as PNG.
func (m *Mold) WriteRubberPicture(ctx context.Context, w io.Writer, i int) error {
	return m.writeHalf(ctx, w, i, 1)
}

func (m *Mold) writeRubber(ctx context.Context, w io.Writer, i int, marks []pourplan.FindingMark) error {
	half := m.Solids.Halves()[i]
	rubber := m.Rubber[i].Transform(faceUp.Point, false)
	scene := picture.Scene{
		Meshes:  []picture.PaintedMesh{{Mesh: rubber, Colour: pourplan.RubberColours[i], Crease: pictureCrease}},
		Camera:  lyingCamera,
		Floor:   lyingOn(-half.FillHeight),
		Caption: m.caption(half.Name+" rubber half", half.Inside),
	}
	if err := addMarks(ctx, &scene, marks, half, faceUp, 0); err != nil {
		return err
	}
	return m.writePicture(ctx, w, scene)
}

// Findings are shown on a picture as balls on the tip of a pin, so that they
// stand out of what hides their place, with the letters that the pour sheet has
// for them.
const (
	markBall = 2.0 // radius, mm
	markPin  = 0.3
	markOver = 3.0 // of a ball's middle over all that hides it
)

var markColours = map[moldbox.Severity]color.RGBA{
	moldbox.Stop: {R: 0xf0, G: 0x60, B: 0x58, A: 0xff},
	moldbox.Warn: {R: 0xf0, G: 0xb4, B: 0x30, A: 0xff},
}

// addMarks adds the marks of a half to its picture. inPicture takes
// the half's print coordinates to the picture's, where z is up and nothing of
// the half is over top.
func addMarks(ctx context.Context, scene *picture.Scene, marks []pourplan.FindingMark, half moldbox.Half, inPicture geom.Transform, top float64) error {
	for _, f := range marks {
		at := inPicture.Point(half.ToPrint(f.At))
		tip := geom.Vec{X: at.X, Y: at.Y, Z: math.Max(at.Z, top) + markOver}
		mark := geom.Union(geom.Ball(tip, markBall), geom.Capsule(at, tip, markPin))
		mesh, err := geom.Mesh(ctx, mark, geom.MeshOptions{Tolerance: 0.1})
		if err != nil {
			return err
		}
		scene.Meshes = append(scene.Meshes, picture.PaintedMesh{Mesh: mesh, Colour: markColours[f.Severity], Crease: pictureCrease})
		scene.Labels = append(scene.Labels, picture.Label{Text: f.Letter, At: tip})
	}
	if len(scene.Labels) > 0 {
		scene.Caption += "; letters: findings on the pour sheet"
	}
	return nil
}
