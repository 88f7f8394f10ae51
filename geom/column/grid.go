package column

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
)

// Stretch is the part of an upright line that is inside a solid, from Lo to Hi,
// mm along the direction that is up.
type Stretch struct{ Lo, Hi float64 }

// Grid is a solid cut into upright lines at even steps: what a level that
// rises, a draw, or a thickness is found from. Heights are exact to some
// 1e-5 mm; aside of its lines it knows nothing, so that what is thinner than
// Step across them may be missed.
type Grid struct {
	Step   float64 // between neighbouring lines, mm
	NX, NY int     // lines along the two level directions

	frame geom.Transform // takes space to the grid's own coordinates, up being +Z
	back  geom.Transform
	x0    float64 // of the first line
	y0    float64
	first []int32 // of each line its first stretch; one more for the end
	all   []Stretch
}

// Options says where to cut. Zero fields take the defaults.
type Options struct {
	Up      geom.Vec // the direction that is up; default +Z
	Within  geom.Box // only this part counts; the zero value takes the solid's box
	Step    float64  // between lines, mm; default 0.25
	Workers int      // 0: all processors; the grid does not depend on it
}

const (
	defaultColumnStep = 0.25
	mostColumns       = 4 << 20
)

// Cut cuts a solid along upright lines. One line passes through the
// middle of the box, so that the middle plane of what is symmetrical is met.
// More than four million lines, or a box without end, are an error.
func Cut(ctx context.Context, s geom.Solid, opt Options) (*Grid, error) {
	c := &Grid{Step: opt.Step, frame: geom.Upright(opt.Up)}
	if c.Step <= 0 {
		c.Step = defaultColumnStep
	}
	c.back = c.frame.Inverse()
	box := opt.Within
	if box == (geom.Box{}) {
		box = s.BoundingBox()
	}
	box = box.Intersect(s.BoundingBox())
	c.first = []int32{0}
	if box.IsEmpty() {
		return c, nil
	}
	own := c.frame.Box(box)
	size, mid := own.Size(), own.Centre()
	nx, ny := math.Ceil(size.X/2/c.Step), math.Ceil(size.Y/2/c.Step)
	if !((2*nx+1)*(2*ny+1) <= mostColumns) || !own.Min.IsFinite() || !own.Max.IsFinite() {
		return nil, fmt.Errorf("column: lines %.3g mm apart over %.4g x %.4g mm are too many", c.Step, size.X, size.Y)
	}
	c.NX, c.NY = 2*int(nx)+1, 2*int(ny)+1
	c.x0, c.y0 = mid.X-nx*c.Step, mid.Y-ny*c.Step
	if err := c.cut(ctx, c.frame.Solid(s), own, opt.Workers); err != nil {
		return nil, err
	}
	return c, nil
}

// Row cuts a solid along n lines in the plane z = 0 that run along +Y, from x on at
// even steps: lines (0, 0) to (n-1, 0) of the grid.
func Row(ctx context.Context, s geom.Solid, x, step float64, n int) (*Grid, error) {
	c := &Grid{Step: step, NX: n, NY: 1, x0: x}
	c.frame = geom.FromAxes(geom.Vec{X: 1}, geom.Vec{Z: 1}, geom.Vec{Y: -1})
	c.back = c.frame.Inverse()
	s = c.frame.Solid(s)
	return c, c.cut(ctx, s, s.BoundingBox(), 1)
}

// Line returns the stretches of line (i, j), the lowest first; none beyond the
// grid.
func (c *Grid) Line(i, j int) []Stretch {
	if i < 0 || j < 0 || i >= c.NX || j >= c.NY {
		return nil
	}
	k := j*c.NX + i
	return c.all[c.first[k]:c.first[k+1]]
}

// At returns the point of space at a height on line (i, j).
func (c *Grid) At(i, j int, height float64) geom.Vec {
	return c.back.Point(geom.Vec{X: c.x(i), Y: c.y(j), Z: height})
}

// Height returns the height of a point of space.
func (c *Grid) Height(p geom.Vec) float64 { return c.frame.Point(p).Z }

func (c *Grid) x(i int) float64 { return c.x0 + float64(i)*c.Step }
func (c *Grid) y(j int) float64 { return c.y0 + float64(j)*c.Step }

// cut fills in the stretches.
func (c *Grid) cut(ctx context.Context, s geom.Solid, own geom.Box, workers int) error {
	cutter := lineCutter{c, workers}
	block, err := cutter.lines(ctx, s, lineRange{0, c.NX, 0, c.NY, own.Min.Z, own.Max.Z})
	if err != nil {
		return err
	}
	c.first = make([]int32, 1, c.NX*c.NY+1)
	for j := range c.NY {
		for i := range c.NX {
			if i >= block.i0 && i < block.i1 && j >= block.j0 && j < block.j1 {
				c.all = append(c.all, *block.line(i, j)...)
			}
			c.first = append(c.first, int32(len(c.all)))
		}
	}
	return nil
}
