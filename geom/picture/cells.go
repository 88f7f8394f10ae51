package picture

// perCell is the number of pixels along the side of a cell. How open a place is
// and how much light it gets change slowly but at edges, so both are looked for
// once a cell, and brought to the pixels along what lies as they do.
const perCell = 2

// cells is how many columns and rows of cells the picture has.
func (s Scene) cells() (columns, rows int) {
	return (s.Width + perCell - 1) / perCell, (s.Height + perCell - 1) / perCell
}

// cells are what the viewer sees, a place of each cell.
type cells struct {
	width, height int
	places        []vec3 // in camera axes, far behind where there is no model
	normals       []vec3
	pixel         float32 // mm
	bare          []bool  // by block: nothing of the model is in its surroundings
	settled       []bool  // by block: what its first cell and those beside it have found holds between them
}

// farBehind is the place of nothing.
var farBehind = vec3{z: -1e18}

func newCells(s Scene, pixel float32) *cells {
	c := &cells{pixel: pixel}
	c.width, c.height = s.cells()
	c.places, c.normals = make([]vec3, c.width*c.height), make([]vec3, c.width*c.height)
	c.bare, c.settled = make([]bool, c.blockColumns()*c.blockRows()), make([]bool, c.blockColumns()*c.blockRows())
	return c
}

// cellSample is the sample of a cell that stands for it, next to its middle.
const cellSample = cellSide/2 - 1

// look takes a row of cells of the model.
func (c *cells) look(sh *shader, row int) {
	for i := range c.width {
		sx, sy := cellSide*i+cellSample, cellSide*row+cellSample
		k := row*c.width + i
		c.places[k], c.normals[k] = sh.surface(sx, sy)
	}
}

// surface is the place and the shading normal of what is at a sample; of
// nothing the place is far behind.
func (sh *shader) surface(sx, sy int) (place, normal vec3) {
	if on, near := sh.sample(sx, sy); on != 0 {
		return sh.at(sx, sy, near), sh.normal(sx, sy, on)
	}
	return sh.ground(sx, sy)
}

// ground is the place and the normal of the floor at a sample.
func (sh *shader) ground(sx, sy int) (place, normal vec3) {
	if f := sh.floor; f != nil {
		if near := float32(f.near(sx, sy)); near > 0 || !sh.view.perspective { // not over the horizon
			return sh.view.place((float32(sx)+0.5)/perSide, (float32(sy)+0.5)/perSide, near), f.face
		}
	}
	return farBehind, vec3{}
}

// alike is how far what cell k has found holds for a place with a normal, 0 to 1:
// less, the more the cell is off the place's plane and faces elsewhere.
func (c *cells) alike(k int, place, normal vec3) float32 {
	const reach = 2 * perCell // pixels off the plane where nothing holds any more
	off := normal.dot(c.places[k].sub(place)) / (reach * c.pixel)
	facing := normal.dot(c.normals[k])
	if off = 1 - max(off, -off); off <= 0 || facing <= 0 {
		return 0
	}
	facing *= facing
	return off * facing * facing
}

// around are the four cells round a pixel and how much each counts.
type around struct {
	cell  [4]int
	share [4]float32
}

// quad are the four cells round the pixels between the samples of cell (i, j) and of
// those to its right and below it: four pixels, but at the picture's edges.
func (c *cells) quad(i, j int) around {
	x0, x1 := max(i, 0), min(i+1, c.width-1)
	y0, y1 := max(j, 0), min(j+1, c.height-1)
	return around{cell: [4]int{y0*c.width + x0, y0*c.width + x1, y1*c.width + x0, y1*c.width + x1}}
}

// firstPixel is the first pixel, across or down, between the samples of cell i and the next.
func firstPixel(i int) int { return perCell*i + 1 }

// quadShares are what each of the cells of a quad counts at each of its pixels.
var quadShares = func() (shares [perCell * perCell][4]float32) {
	const sample = (cellSample + 0.5) / perSide // of a cell, from its first pixel's edge
	at := func(pixel int) float32 { return (float32(firstPixel(0)+pixel) + 0.5 - sample) / perCell }
	for k := range shares {
		x, y := at(k%perCell), at(k/perCell)
		shares[k] = [4]float32{(1 - x) * (1 - y), x * (1 - y), (1 - x) * y, x * y}
	}
	return shares
}()

// mean is of what the cells have found, by their shares.
func (a *around) mean(of []float32) float32 {
	return a.share[0]*of[a.cell[0]] + a.share[1]*of[a.cell[1]] + a.share[2]*of[a.cell[2]] + a.share[3]*of[a.cell[3]]
}

// differ reports whether the cells have found what would be seen to differ.
func (a *around) differ(of []float32) bool {
	const seen = 1. / 256
	p := of[a.cell[0]]
	for _, k := range a.cell[1:] {
		if d := of[k] - p; d > seen || d < -seen {
			return true
		}
	}
	return false
}

// level reports whether the cells show one surface, so that what one has found holds
// for all.
func (a *around) level(c *cells) bool {
	const enough = 0.8
	first := a.cell[0]
	for _, k := range a.cell[1:] {
		if c.alike(k, c.places[first], c.normals[first]) < enough {
			return false
		}
	}
	return true
}

// weigh changes the shares to those of cells that are alike to a place, unless
// none is.
func (a *around) weigh(c *cells, place, normal vec3) {
	w, all := a.share, float32(0)
	for i, k := range a.cell {
		w[i] *= c.alike(k, place, normal)
		all += w[i]
	}
	if all < 1e-3 {
		return
	}
	for i := range w {
		a.share[i] = w[i] / all
	}
}
