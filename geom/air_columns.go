package geom

import (
	"context"
	"fmt"
	"math"
)

// Stretch is the part of an upright line that is inside a solid, from Lo to Hi,
// mm along the direction that is up.
type Stretch struct{ Lo, Hi float64 }

// Columns is a solid cut into upright lines at even steps: what a level that
// rises, a draw, or a thickness is found from. Heights are exact to some
// 1e-5 mm; aside of its lines it knows nothing, so that what is thinner than
// Step across them may be missed.
type Columns struct {
	Step   float64 // between neighbouring lines, mm
	NX, NY int     // lines along the two level directions

	frame Placement // takes space to the columns' own coordinates, up being +Z
	back  Placement
	x0    float64 // of the first line
	y0    float64
	first []int32 // of each line its first stretch; one more for the end
	all   []Stretch
}

// ColumnOptions says where to cut. Zero fields take the defaults.
type ColumnOptions struct {
	Up      Vec     // the direction that is up; default +Z
	Within  Box     // only this part counts; the zero value takes the solid's box
	Step    float64 // between lines, mm; default 0.25
	Workers int     // 0: all processors; the columns do not depend on it
}

const (
	defaultColumnStep = 0.25
	mostColumns       = 4 << 20
)

// CutColumns cuts a solid along upright lines. One line passes through the
// middle of the box, so that the middle plane of what is symmetrical is met.
// More than four million lines, or a box without end, are an error.
func CutColumns(ctx context.Context, s Solid, opt ColumnOptions) (*Columns, error) {
	c := &Columns{Step: opt.Step, frame: uprightFrame(opt.Up)}
	if c.Step <= 0 {
		c.Step = defaultColumnStep
	}
	c.back = c.frame.Inverse()
	box := opt.Within
	if box == (Box{}) {
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
		return nil, fmt.Errorf("geom: columns %.3g mm apart over %.4g x %.4g mm are too many", c.Step, size.X, size.Y)
	}
	c.NX, c.NY = 2*int(nx)+1, 2*int(ny)+1
	c.x0, c.y0 = mid.X-nx*c.Step, mid.Y-ny*c.Step
	if err := c.cut(ctx, c.frame.Solid(s), own, opt.Workers); err != nil {
		return nil, err
	}
	return c, nil
}

// uprightFrame takes the direction up to +Z; axes go to axes.
func uprightFrame(up Vec) Placement {
	up = direction(up)
	switch {
	case up == (Vec{}) || up == Vec{Z: 1}:
		return Identity()
	case up == Vec{Y: 1}:
		return FromAxes(Vec{Y: 1}, Vec{Z: 1}, Vec{X: 1})
	}
	side := Vec{X: 1}
	if math.Abs(up.X) > 0.6 {
		side = Vec{Y: 1}
	}
	u := direction(side.Sub(up.Mul(up.Dot(side))))
	return FromAxes(u, up.Cross(u), up).Inverse()
}

// Line returns the stretches of line (i, j), the lowest first; none beyond the
// grid.
func (c *Columns) Line(i, j int) []Stretch {
	if i < 0 || j < 0 || i >= c.NX || j >= c.NY {
		return nil
	}
	k := j*c.NX + i
	return c.all[c.first[k]:c.first[k+1]]
}

// At returns the point of space at a height on line (i, j).
func (c *Columns) At(i, j int, height float64) Vec {
	return c.back.Point(Vec{c.x(i), c.y(j), height})
}

// Height returns the height of a point of space.
func (c *Columns) Height(p Vec) float64 { return c.frame.Point(p).Z }

// Nearest returns the line nearest to a point of space, which may be beyond
// the grid.
func (c *Columns) Nearest(p Vec) (i, j int) {
	q := c.frame.Point(p)
	return int(math.Round((q.X - c.x0) / c.Step)), int(math.Round((q.Y - c.y0) / c.Step))
}

func (c *Columns) x(i int) float64 { return c.x0 + float64(i)*c.Step }
func (c *Columns) y(j int) float64 { return c.y0 + float64(j)*c.Step }

const (
	columnTile = 12 // lines along a side of what one worker takes at a time
	columnLeaf = 2  // lines along a side of a cell that is not split further
)

// cut fills in the stretches, tile by tile.
func (c *Columns) cut(ctx context.Context, s Solid, own Box, workers int) error {
	tx, ty := (c.NX+columnTile-1)/columnTile, (c.NY+columnTile-1)/columnTile
	lines := make([][]Stretch, c.NX*c.NY)
	err := parallel(ctx, tx*ty, workers, func(k int) {
		i, j := k%tx*columnTile, k/tx*columnTile
		r := lineRange{i, min(i+columnTile, c.NX), j, min(j+columnTile, c.NY), own.Min.Z, own.Max.Z}
		t := columnCutter{c, lines}
		t.cut(s, r)
	})
	if err != nil {
		return err
	}
	total := 0
	for _, l := range lines {
		total += len(l)
	}
	c.first, c.all = make([]int32, 1, len(lines)+1), make([]Stretch, 0, total)
	for _, l := range lines {
		c.all = append(c.all, l...)
		c.first = append(c.first, int32(len(c.all)))
	}
	return nil
}

// lineRange is a block of lines, i0 <= i < i1 and j0 <= j < j1, between two
// heights.
type lineRange struct {
	i0, i1, j0, j1 int
	z0, z1         float64
}

// columnCutter cuts one tile. It works from below upwards in every line.
type columnCutter struct {
	*Columns
	lines [][]Stretch
}

// cut adds what the block holds. Its box is that of the lines themselves, not
// of the room between them.
func (c columnCutter) cut(s Solid, r lineRange) {
	b := Box{Vec{c.x(r.i0), c.y(r.j0), r.z0}, Vec{c.x(r.i1 - 1), c.y(r.j1 - 1), r.z1}}
	s, values := Narrow(s, b)
	if values.Lo > settledMargin {
		return
	}
	if values.Hi < -settledMargin {
		c.each(r, func(line *[]Stretch, _, _ float64) { addStretch(line, r.z0, r.z1) })
		return
	}
	across := max(r.i1-r.i0, r.j1-r.j0)
	if high := r.z1 - r.z0; across <= columnLeaf && high <= 2*columnLeaf*c.Step {
		c.each(r, func(line *[]Stretch, x, y float64) { c.trace(s, line, x, y, r.z0, r.z1) })
		return
	} else if high > c.Step*float64(across) {
		low, top := r, r
		low.z1 = (r.z0 + r.z1) / 2
		top.z0 = low.z1
		c.cut(s, low)
		c.cut(s, top)
		return
	}
	a, b2 := r, r
	if r.i1-r.i0 >= r.j1-r.j0 {
		a.i1 = (r.i0 + r.i1) / 2
		b2.i0 = a.i1
	} else {
		a.j1 = (r.j0 + r.j1) / 2
		b2.j0 = a.j1
	}
	c.cut(s, a)
	c.cut(s, b2)
}

func (c columnCutter) each(r lineRange, visit func(line *[]Stretch, x, y float64)) {
	for j := r.j0; j < r.j1; j++ {
		for i := r.i0; i < r.i1; i++ {
			visit(&c.lines[j*c.NX+i], c.x(i), c.y(j))
		}
	}
}

// addStretch puts a stretch on top of a line, joined to the last where they
// touch.
func addStretch(line *[]Stretch, lo, hi float64) {
	if n := len(*line); n > 0 && (*line)[n-1].Hi >= lo {
		(*line)[n-1].Hi = hi
		return
	}
	*line = append(*line, Stretch{lo, hi})
}

// thinnestStretch is the share of the step between lines below which a stretch
// along a line may be missed.
const thinnestStretch = 0.1

// trace walks up a line by the distance known to be free of skin.
func (c columnCutter) trace(s Solid, line *[]Stretch, x, y, z0, z1 float64) {
	at := func(z float64) float64 { return s.Evaluate(Vec{x, y, z}) }
	least := thinnestStretch * c.Step
	z, v := z0, at(z0)
	from, inside := z0, v < 0
	for z < z1 {
		next := math.Min(z1, z+math.Max(math.Abs(v), least))
		w := at(next)
		if (w < 0) != inside {
			cross := skinBetween(at, z, next, v, w)
			if inside {
				addStretch(line, from, cross)
			}
			from, inside = cross, !inside
		}
		z, v = next, w
	}
	if inside {
		addStretch(line, from, z1)
	}
}

// skinBetween returns where the value changes its sign between a and b, with
// the values va and vb, to 1e-5 mm: by false position with the Illinois step.
func skinBetween(at func(float64) float64, a, b, va, vb float64) float64 {
	side := 0
	for range 60 {
		m := a - va*(b-a)/(vb-va)
		v := at(m)
		if math.Abs(v) < 1e-6 || b-a < 1e-5 {
			return m
		}
		if (v < 0) == (va < 0) {
			a, va = m, v
			if side == -1 {
				vb /= 2
			}
			side = -1
		} else {
			b, vb = m, v
			if side == 1 {
				va /= 2
			}
			side = 1
		}
	}
	return (a + b) / 2
}
