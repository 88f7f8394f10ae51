package column

import (
	"math"
	"slices"

	"halfpour/geom"
)

// airCell is a stretch of a line, cut again wherever a way to a neighbouring
// line begins or ends, so that it is open to each neighbour along its whole
// height or not at all.
type airCell struct {
	line   int32
	lo, hi float64
	open   bool // air leaves here
}

// airCells is a hollow as cells and the ways between them.
type airCells struct {
	columns *Grid
	list    []airCell
	begin   []int32 // of each line its first cell; one more for the end
	first   []int32 // of each cell its first way; one more for the end
	ways    []int32 // the cells that lie next to it
}

var fourSides = [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}

func newAirCells(c *Grid) *airCells {
	a := &airCells{columns: c, begin: make([]int32, 1, c.NX*c.NY+1)}
	var cuts []float64
	for j := range c.NY {
		for i := range c.NX {
			for _, s := range c.Line(i, j) {
				cuts = append(cuts[:0], s.Lo, s.Hi)
				for _, d := range fourSides {
					for _, n := range c.Line(i+d[0], j+d[1]) {
						if n.Lo > s.Lo && n.Lo < s.Hi {
							cuts = append(cuts, n.Lo)
						}
						if n.Hi > s.Lo && n.Hi < s.Hi {
							cuts = append(cuts, n.Hi)
						}
					}
				}
				slices.Sort(cuts)
				for k := 1; k < len(cuts); k++ {
					if cuts[k] > cuts[k-1] {
						a.list = append(a.list, airCell{line: int32(j*c.NX + i), lo: cuts[k-1], hi: cuts[k]})
					}
				}
			}
			a.begin = append(a.begin, int32(len(a.list)))
		}
	}
	a.join()
	return a
}

// join finds the ways: to the cell above and below that touches, and to those
// of neighbouring lines at the same height.
func (a *airCells) join() {
	c := a.columns
	a.first = make([]int32, 1, len(a.list)+1)
	for id := range a.list {
		cell := &a.list[id]
		if id > 0 && a.list[id-1].line == cell.line && a.list[id-1].hi == cell.lo {
			a.ways = append(a.ways, int32(id-1))
		}
		if id+1 < len(a.list) && a.list[id+1].line == cell.line && a.list[id+1].lo == cell.hi {
			a.ways = append(a.ways, int32(id+1))
		}
		i, j := int(cell.line)%c.NX, int(cell.line)/c.NX
		for _, d := range fourSides {
			if x, y := i+d[0], j+d[1]; x >= 0 && y >= 0 && x < c.NX && y < c.NY {
				a.joinLine(cell, y*c.NX+x)
			}
		}
		a.first = append(a.first, int32(len(a.ways)))
	}
}

func (a *airCells) joinLine(cell *airCell, line int) {
	for n := a.begin[line]; n < a.begin[line+1]; n++ {
		if o := &a.list[n]; o.lo < cell.hi && o.hi > cell.lo {
			a.ways = append(a.ways, n)
		}
	}
}

// next returns the cells that lie next to a cell.
func (a *airCells) next(id int32) []int32 { return a.ways[a.first[id]:a.first[id+1]] }

// at returns the point of space at a height in a cell.
func (a *airCells) at(id int32, height float64) geom.Vec {
	l := int(a.list[id].line)
	return a.columns.At(l%a.columns.NX, l/a.columns.NX, height)
}

// roof reports whether a cell has nothing of the hollow over it.
func (a *airCells) roof(id int32) bool {
	n := int(id) + 1
	return n >= len(a.list) || a.list[n].line != a.list[id].line || a.list[n].lo != a.list[id].hi
}

// openUp marks the cells whose upper end or middle is within open.
func (a *airCells) openUp(open geom.Solid) {
	if open == nil {
		return
	}
	for id := range a.list {
		c := &a.list[id]
		c.open = geom.Inside(open, a.at(int32(id), c.hi)) || geom.Inside(open, a.at(int32(id), (c.lo+c.hi)/2))
	}
}

// nearest returns the cell that comes nearest to a point.
func (a *airCells) nearest(p geom.Vec) int32 {
	q := a.columns.frame.Point(p)
	best, least := int32(0), math.Inf(1)
	for id := range a.list {
		c := &a.list[id]
		l := int(c.line)
		dx, dy := a.columns.x(l%a.columns.NX)-q.X, a.columns.y(l/a.columns.NX)-q.Y
		dz := max(0, max(c.lo-q.Z, q.Z-c.hi))
		if d := dx*dx + dy*dy + dz*dz; d < least {
			best, least = int32(id), d
		}
	}
	return best
}
