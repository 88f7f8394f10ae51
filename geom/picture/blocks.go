package picture

// blockSide is of the blocks of cells that are looked at together. Most of a picture
// is flat, and how open it is and how much light it gets change slowly there: of a
// flat block only the corners are asked.
const blockSide = 4

func (c *cells) blockRows() int { return (c.height + blockSide - 1) / blockSide }

func (c *cells) blockColumns() int { return (c.width + blockSide - 1) / blockSide }

// asked is what is looked for of all cells.
type asked struct {
	of          []float32
	first, rest func(x, y int) float32 // of the first cell of a block, and of its others
	bare        float32                // of a cell with nothing of the model in its surroundings
}

// first asks for the first cell of each block in a row of blocks, and rest for the
// others, where they have to be asked.
func (c *cells) first(j int, all ...asked) {
	y := j * blockSide
	for i := range c.blockColumns() {
		x := i * blockSide
		for _, a := range all {
			if to := &a.of[y*c.width+x]; c.bare[j*c.blockColumns()+i] {
				*to = a.bare
			} else {
				*to = a.first(x, y)
			}
		}
	}
}

func (c *cells) rest(j int, all ...asked) {
	for i := range c.blockColumns() {
		x0, y0 := i*blockSide, j*blockSide
		if k := j*c.blockColumns() + i; c.bare[k] {
			c.settled[k] = true
			for _, a := range all {
				for y := y0; y < min(y0+blockSide, c.height); y++ {
					for x := x0; x < min(x0+blockSide, c.width); x++ {
						if x > x0 || y > y0 { // the first cell is read for the block above meanwhile
							a.of[y*c.width+x] = a.bare
						}
					}
				}
			}
			continue
		}
		flat := c.flatBlock(x0, y0)
		settled := flat
		for _, a := range all {
			if flat && c.between(a.of, x0, y0) {
				continue
			}
			settled = false
			for y := y0; y < min(y0+blockSide, c.height); y++ {
				for x := x0; x < min(x0+blockSide, c.width); x++ {
					if x > x0 || y > y0 {
						a.of[y*c.width+x] = a.rest(x, y)
					}
				}
			}
		}
		c.settled[j*c.blockColumns()+i] = settled
	}
}

// flatBlock tells whether a block shows one plane, up to and with the first cells of
// those beside it.
func (c *cells) flatBlock(x0, y0 int) bool {
	if x0+blockSide >= c.width || y0+blockSide >= c.height {
		return false
	}
	const turn = 3e-3 // radians that no one sees
	first := y0*c.width + x0
	n, at := c.normals[first], c.places[first].dot(c.normals[first])
	step := c.pixel / 2
	for y := range blockSide + 1 {
		row := first + y*c.width
		for k := row; k <= row+blockSide; k++ {
			if d := c.normals[k].sub(n); d.dot(d) > turn*turn {
				return false
			}
			if d := c.places[k].dot(n) - at; d > step || d < -step {
				return false
			}
		}
	}
	return true
}

// between fills a block from its first cell and those beside it, where they have found
// nearly the same.
func (c *cells) between(of []float32, x0, y0 int) bool {
	const apart = 0.2
	first := y0*c.width + x0
	a, b := of[first], of[first+blockSide]
	d, e := of[first+blockSide*c.width], of[first+blockSide*c.width+blockSide]
	if max(a, b, d, e)-min(a, b, d, e) > apart {
		return false
	}
	from := 1 // the first cell is read for the block above meanwhile
	for y := range blockSide {
		down := float32(y) / blockSide
		left, right := a+(d-a)*down, b+(e-b)*down
		step := (right - left) / blockSide
		row := of[first+y*c.width:][:blockSide]
		for x := from; x < blockSide; x++ {
			row[x] = left + float32(x)*step
		}
		from = 0
	}
	return true
}

// even brings what a row of cells has found together with their neighbours that
// are alike, those that share a side twice as much, so that all turns of
// directions count about the same.
func (c *cells) even(to, from [2][]float32, y int) {
	row := y * c.width
	copy(to[0][row:row+c.width], from[0][row:])
	copy(to[1][row:row+c.width], from[1][row:])
	if y == 0 || y == c.height-1 {
		return
	}
	settled := c.settled[y/blockSide*c.blockColumns():]
	for i := range c.blockColumns() {
		if settled[i] {
			continue
		}
		for k := row + max(i*blockSide, 1); k < row+min((i+1)*blockSide, c.width-1); k++ {
			c.evenCell(to, from, k)
		}
	}
}

func (c *cells) evenCell(to, from [2][]float32, k int) {
	uneven := [2]bool{c.uneven(from[0], k), c.uneven(from[1], k)}
	if !uneven[0] && !uneven[1] {
		return
	}
	w := c.likes(k)
	for i := range to {
		if uneven[i] {
			to[i][k] = w.mean(from[i], k, c.width)
		}
	}
}

// uneven reports whether the cells round cell k have found something else.
func (c *cells) uneven(of []float32, k int) bool {
	const seen = 1. / 512
	p := of[k]
	for row := k - c.width - 1; row <= k+c.width-1; row += c.width {
		three := of[row : row+3 : row+3]
		if d := three[0] - p; d > seen || d < -seen {
			return true
		}
		if d := three[1] - p; d > seen || d < -seen {
			return true
		}
		if d := three[2] - p; d > seen || d < -seen {
			return true
		}
	}
	return false
}

// likes are how much each of the nine cells about one counts for it.
type likes [9]float32

func (c *cells) likes(k int) (w likes) {
	place, normal := c.places[k], c.normals[k]
	for i := range w {
		x, y := i%3-1, i/3-1
		if x == 0 && y == 0 {
			w[i] = 4
			continue
		}
		w[i] = float32(2-x*x*y*y) * c.alike(k+y*c.width+x, place, normal)
	}
	return w
}

func (w *likes) mean(of []float32, k, width int) float32 {
	sum, all := float32(0), float32(0)
	for i, share := range w {
		sum, all = sum+share*of[k+(i/3-1)*width+i%3-1], all+share
	}
	return sum / all
}
