package picture

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"halfpour/geom"
)

// Scene is what Render draws. A picture shows the outside of closed meshes:
// triangles that face away from the viewer are left out. Of a mesh with a Cut
// it shows what is behind the plane, closed by the cut face.
type Scene struct {
	Meshes        []PaintedMesh
	Camera        Camera
	Labels        []Label
	Caption       string     // one line below the model
	Floor         *Floor     // nil for none
	Width, Height int        // of the picture, pixels
	Background    color.RGBA // zero for a transparent one
	Workers       int        // 0: all processors; the picture is the same for any number
}

// PaintedMesh is a mesh in one colour.
type PaintedMesh struct {
	Mesh   *geom.TriMesh
	Colour color.RGBA // its alpha is not used

	// Crease is an angle in radians. Facets that meet at less are shaded as
	// parts of one smooth surface; 0 shades each facet flat.
	Crease float64

	Cut *Cut // nil draws it whole
}

// Floor is a plane behind the model on which its shadow falls; it has the
// background's colour.
type Floor struct {
	N geom.Vec // up from it, towards the viewer
	D float64
}

// Camera looks at the meshes from afar and takes all of them in.
type Camera struct {
	Look geom.Vec // the direction of sight
	Up   geom.Vec // what points up in the picture; not along Look

	// Perspective is the angle of view in radians, up to 2; 0 draws parallel
	// lines parallel.
	Perspective float64
	Margin      float64 // share of the picture left free on each side, 0 to 0.4
}

// The limits of a Scene: samples and triangles are counted in 32 bits.
const (
	maxPictureSide      = 8192
	maxPictureTriangles = 1 << 28
)

// check returns what is wrong with the scene, in words for who made it.
func (s Scene) check() error {
	c := s.Camera
	switch {
	case s.Width < 1 || s.Height < 1 || s.Width > maxPictureSide || s.Height > maxPictureSide:
		return fmt.Errorf("picture: each side must be 1 to %d pixels, got %d x %d", maxPictureSide, s.Width, s.Height)
	case !c.Look.IsFinite() || !c.Up.IsFinite() || c.Look.Unit().Cross(c.Up.Unit()).Norm() < 1e-6:
		return fmt.Errorf("picture: camera needs directions to look and up that are not along one line, got %v and %v", c.Look, c.Up)
	case !(c.Perspective >= 0 && c.Perspective <= 2):
		return fmt.Errorf("picture: perspective must be 0 to 2 radians, got %g", c.Perspective)
	case !(c.Margin >= 0 && c.Margin <= 0.4):
		return fmt.Errorf("picture: margin must be 0 to 0.4 of the picture, got %g", c.Margin)
	}
	if len(s.Meshes) > math.MaxUint16 {
		return fmt.Errorf("picture: at most %d meshes can be drawn, got %d", math.MaxUint16, len(s.Meshes))
	}
	triangles := 0
	for i, m := range s.Meshes {
		if m.Mesh == nil {
			return fmt.Errorf("picture: mesh %d is missing", i)
		}
		if err := m.Cut.check(i); err != nil {
			return err
		}
		triangles += len(m.Mesh.Triangles)
		finite := !slices.ContainsFunc(m.Mesh.Vertices, func(p geom.Vec) bool { return !p.IsFinite() })
		for _, t := range m.Mesh.Triangles {
			for _, v := range t {
				if v < 0 || int(v) >= len(m.Mesh.Vertices) || !finite && !m.Mesh.Vertices[v].IsFinite() {
					return fmt.Errorf("picture: mesh %d: a triangle has no finite vertex %d", i, v)
				}
			}
		}
	}
	if triangles == 0 || triangles > maxPictureTriangles {
		return fmt.Errorf("picture: 1 to %d triangles can be drawn, got %d", maxPictureTriangles, triangles)
	}
	return nil
}

// Render draws the scene with a main light from the upper left, a weaker one
// from the right, and darker hollows and outlines, so that shallow relief
// reads. Each pixel is the mean of 2 x 2 samples. It returns an error when the
// scene cannot be drawn or ctx ends.
func Render(ctx context.Context, scene Scene) (*image.RGBA, error) {
	sh, err := scene.shader(ctx)
	if err != nil {
		return nil, err
	}
	img, err := sh.paint(ctx)
	if err != nil {
		return nil, err
	}
	return img, scene.letter(img, sh.view)
}

// shader finds what is nearest at each sample, and makes ready to paint it.
func (s Scene) shader(ctx context.Context) (*shader, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	m := newModel(s)
	v := s.fit(m)
	planes, err := v.cutPlanes(s)
	if err != nil {
		return nil, err
	}
	r, err := rasterize(ctx, s, m, v, planes)
	if err != nil {
		return nil, err
	}
	if err := m.turn(ctx, s, v, r); err != nil {
		return nil, err
	}
	sh := newShader(s, m, v, planes, r)
	if f := s.Floor; f != nil {
		if sh.floor = v.plane(f.N, f.D); sh.floor == nil {
			return nil, errors.New("picture: the viewer must be over the floor")
		}
	}
	return sh, nil
}
