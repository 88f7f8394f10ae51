package picture

import (
	"math"

	"halfpour/geom"
)

// view takes points of a scene to its picture. Camera axes are X to the
// right, Y up and Z towards the viewer.
type view struct {
	right, up, back geom.Vec
	eye             geom.Vec // the viewer; with parallel sight, a point behind the model on the line through the middle
	perspective     bool
	scale           float64 // pixels per mm, with perspective per mm at depth 1
	x0, y0          float64 // the pixel of the point straight ahead
	pixel           float64 // mm in a pixel, in the middle of the model
}

// fit returns the view that takes in the points of the model that are shown, or else all,
// as large as the margin allows, from outside all of them.
func (s Scene) fit(m *model) *view {
	box := geom.BoxOf(m.vertices...)
	look := s.Camera.Look.Unit()
	v := &view{right: look.Cross(s.Camera.Up).Unit(), back: look.Neg(), eye: box.Centre(), scale: 1}
	v.up = v.back.Cross(v.right)
	away, half := 1.0, max(box.HalfDiagonal(), 1e-9)
	if v.perspective = s.Camera.Perspective > 0; v.perspective {
		away = half / math.Sin(s.Camera.Perspective/2)
		v.eye = v.eye.Add(v.back.Mul(away))
	} else {
		v.eye = v.eye.Sub(v.back.Mul(2 * half))
	}
	low, high := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	see := func(p geom.Vec) {
		x, y, _ := v.project(p)
		low = geom.Vec2{X: min(low.X, x), Y: min(low.Y, y)}
		high = geom.Vec2{X: max(high.X, x), Y: max(high.Y, y)}
	}
	if s.shown(m, see); low.X > high.X {
		for _, p := range m.vertices {
			see(p)
		}
	}
	w, h := float64(s.Width), s.modelHeight()
	free := 1 - 2*s.Camera.Margin
	v.scale = free * min(w/max(high.X-low.X, 1e-9), h/max(high.Y-low.Y, 1e-9))
	v.x0 = w/2 - v.scale*(low.X+high.X)/2
	v.y0 = h/2 - v.scale*(low.Y+high.Y)/2
	v.pixel = away / v.scale
	return v
}

// project returns the place of p in the picture, y down, and its nearness: of the
// model's points more than 0, greater is nearer, and linear over the picture of a plane.
func (v *view) project(p geom.Vec) (x, y, near float64) {
	q := p.Sub(v.eye)
	x, y, near = q.Dot(v.right), q.Dot(v.up), q.Dot(v.back)
	k := v.scale
	if v.perspective {
		near = -1 / near
		k *= near
	}
	return v.x0 + k*x, v.y0 - k*y, near
}

// place is the inverse of project, in camera axes.
func (v *view) place(x, y, near float32) vec3 {
	k := float32(1 / v.scale)
	z := near
	if v.perspective {
		z = -1 / near
		k *= -z
	}
	return vec3{(x - float32(v.x0)) * k, (float32(v.y0) - y) * k, z}
}

// turn takes a direction to camera axes.
func (v *view) turn(a vec3) vec3 {
	along := func(b geom.Vec) float32 { return a.x*float32(b.X) + a.y*float32(b.Y) + a.z*float32(b.Z) }
	return vec3{along(v.right), along(v.up), along(v.back)}
}
