package picture

// findBare finds the blocks in whose surroundings, as far as ways go, the raster has
// nothing of the model.
func (c *cells) findBare(r *raster, ways []tap) {
	low, high := tap{}, tap{}
	for _, w := range ways {
		low = tap{min(low.dx, w.dx), min(low.dy, w.dy)}
		high = tap{max(high.dx, w.dx), max(high.dy, w.dy)}
	}
	columns, rows := c.blockColumns(), c.blockRows()
	full := make([]int32, (columns+1)*(rows+1)) // how many cells over and to the left of a block's first show something
	for y := range c.height {
		for x := range c.width {
			if r.only[y*c.width+x] != 0 {
				full[(y/blockSide+1)*(columns+1)+x/blockSide+1]++
			}
		}
	}
	for y := 1; y <= rows; y++ {
		row := full[y*(columns+1):]
		for x := 1; x <= columns; x++ {
			row[x] += row[x-1]
		}
		for x := 1; x <= columns; x++ {
			row[x] += full[(y-1)*(columns+1)+x]
		}
	}
	block := func(cell, most int) int { return min(max(cell, 0)/blockSide, most-1) }
	for k := range c.bare {
		x, y := k%columns*blockSide, k/columns*blockSide
		left, right := block(x+low.dx, columns), block(x+blockSide-1+high.dx, columns)+1
		top, bottom := block(y+low.dy, rows)*(columns+1), (block(y+blockSide-1+high.dy, rows)+1)*(columns+1)
		c.bare[k] = full[bottom+right]-full[bottom+left]-full[top+right]+full[top+left] == 0
	}
}

// bareQuads is how many quads from one on, which begins a block, are all in bare blocks.
func (c *cells) bareQuads(i, j int) int {
	if i < 0 || i%blockSide != 0 || j < 0 || j+1 >= c.height {
		return 0
	}
	columns := c.blockColumns()
	over, under := c.bare[j/blockSide*columns:][:columns], c.bare[(j+1)/blockSide*columns:][:columns]
	k := i / blockSide
	for k < columns && over[k] && under[k] {
		k++
	}
	return k*blockSide - i - 1 // the last one is over the next block
}
