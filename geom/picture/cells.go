package picture

// perCell is the number of pixels along the side of a cell. How open a place is
// and how much light it gets change slowly but at edges, so both are looked for
// once a cell, and brought to the pixels along what lies as they do.
const perCell = 2

// cells are what the viewer sees, a place of each cell.
type cells struct {
	width, height int
	places        []vec3 // in camera axes, far behind where there is no model
	normals       []vec3
	pixel         float32 // mm
}

// farBehind is the place of nothing.
var farBehind = vec3{z: -1e18}

func newCells(s Scene, pixel float32) *cells {
	c := &cells{width: (s.Width + perCell - 1) / perCell, height: (s.Height + perCell - 1) / perCell, pixel: pixel}
	c.places, c.normals = make([]vec3, c.width*c.height), make([]vec3, c.width*c.height)
	return c
}

// cellSample is the sample of a cell that stands for it, next to its middle.
const cellSample = perSide*perCell/2 - 1

// look takes a row of cells of the model.
func (c *cells) look(sh *shader, row int) {
	for i := range c.width {
		sx, sy := perSide*perCell*i+cellSample, perSide*perCell*row+cellSample
		sx, sy = min(sx, sh.width-1), min(sy, sh.height-1)
		k := row*c.width + i
		c.places[k], c.normals[k] = sh.surface(sx, sy)
	}
}

// surface is the place and the shading normal of what is at a sample; of
// nothing the place is far behind.
func (sh *shader) surface(sx, sy int) (place, normal vec3) {
	if t := sh.triangle[sy*sh.width+sx]; t != -1 {
		return sh.at(sx, sy), sh.normal(sx, sy, t)
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

// blockSide is of the blocks of cells that are looked at together.
const blockSide = 4

func (c *cells) blockRows() int { return (c.height + blockSide - 1) / blockSide }

// first asks for the first cell of each block in a row of blocks, and rest for
// the others. Most of a picture is flat and neither hidden nor in shadow: a block
// with one normal, whose corners and neighbours' say plain, is all plain.
func (c *cells) first(of []float32, j int, ask func(x, y int) float32) {
	y := j * blockSide
	for x := 0; x < c.width; x += blockSide {
		of[y*c.width+x] = ask(x, y)
	}
}

func (c *cells) rest(of []float32, j int, plain float32, ask func(x, y int) float32) {
	for x := 0; x < c.width; x += blockSide {
		flat := c.plainBlock(of, x, j*blockSide, plain)
		for y := j * blockSide; y < min((j+1)*blockSide, c.height); y++ {
			for u := x; u < min(x+blockSide, c.width); u++ {
				switch {
				case u == x && y == j*blockSide:
				case flat:
					of[y*c.width+u] = plain
				default:
					of[y*c.width+u] = ask(u, y)
				}
			}
		}
	}
}

func (c *cells) plainBlock(of []float32, x0, y0 int, plain float32) bool {
	for _, y := range [2]int{y0, y0 + blockSide} {
		for _, x := range [2]int{x0, x0 + blockSide} {
			if x >= c.width || y >= c.height || of[y*c.width+x] != plain {
				return false
			}
		}
	}
	n := c.normals[y0*c.width+x0]
	for y := y0; y <= y0+blockSide; y++ {
		for x := x0; x <= x0+blockSide; x++ {
			if c.normals[y*c.width+x] != n {
				return false
			}
		}
	}
	return true
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

// even brings what a row of cells has found together with their neighbours that
// are alike, those that share a side twice as much, so that all turns of
// directions count about the same.
func (c *cells) even(to, from []float32, y int) {
	for x := range c.width {
		k := y*c.width + x
		if x == 0 || y == 0 || x == c.width-1 || y == c.height-1 {
			to[k] = from[k]
			continue
		}
		lo, hi := from[k], from[k]
		for v := k - c.width; v <= k+c.width; v += c.width {
			for u := v - 1; u <= v+1; u++ {
				lo, hi = min(lo, from[u]), max(hi, from[u])
			}
		}
		if hi-lo < 1./512 {
			to[k] = from[k]
			continue
		}
		place, normal := c.places[k], c.normals[k]
		sum, all := 4*from[k], float32(4)
		for v := -1; v <= 1; v++ {
			for u := -1; u <= 1; u++ {
				if u == 0 && v == 0 {
					continue
				}
				n := k + v*c.width + u
				w := float32(2-u*u*v*v) * c.alike(n, place, normal)
				sum, all = sum+w*from[n], all+w
			}
		}
		to[k] = sum / all
	}
}

// around are the four cells round a pixel's middle and how near they are.
type around struct {
	cell  [4]int
	share [4]float32
}

func (c *cells) around(x, y int) around {
	const offset = (cellSample+0.5)/perSide - 0.5 // of a cell's sample from its first pixel's middle
	split := func(x, n int) (int, int, float32) {
		at := (float32(x) - offset) / perCell
		i := int(at+1) - 1
		at -= float32(i)
		return min(max(i, 0), n-1), min(i+1, n-1), at
	}
	x0, x1, fx := split(x, c.width)
	y0, y1, fy := split(y, c.height)
	return around{
		[4]int{y0*c.width + x0, y0*c.width + x1, y1*c.width + x0, y1*c.width + x1},
		[4]float32{(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy},
	}
}

// mean is of what the cells have found, by their shares.
func (a *around) mean(of []float32) float32 {
	return a.share[0]*of[a.cell[0]] + a.share[1]*of[a.cell[1]] + a.share[2]*of[a.cell[2]] + a.share[3]*of[a.cell[3]]
}

// differ reports whether the cells have found what would be seen to differ.
func (a *around) differ(of []float32) bool {
	p, q, r, s := of[a.cell[0]], of[a.cell[1]], of[a.cell[2]], of[a.cell[3]]
	return max(p, q, r, s)-min(p, q, r, s) > 1./256
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
