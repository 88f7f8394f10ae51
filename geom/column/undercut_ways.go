package column

// freeLines finds the nearest line of columns on which nothing stands over a
// height, by a tree of least tops: level 0 has the lines, each further level
// the least of two by two of the one before.
type freeLines struct {
	nx, ny []int
	least  [][]float32
}

func newFreeLines(nx, ny int, tops []float32) *freeLines {
	f := &freeLines{[]int{nx}, []int{ny}, [][]float32{tops}}
	for nx > 1 || ny > 1 {
		below, w := f.least[len(f.least)-1], nx
		nx, ny = (nx+1)/2, (ny+1)/2
		level := make([]float32, nx*ny)
		for k := range level {
			i, j := 2*(k%nx), 2*(k/nx)
			i1, j1 := min(i+1, w-1), min(j+1, len(below)/w-1)
			level[k] = min(below[j*w+i], below[j*w+i1], below[j1*w+i], below[j1*w+i1])
		}
		f.nx, f.ny, f.least = append(f.nx, nx), append(f.ny, ny), append(f.least, level)
	}
	return f
}

// way is a search from a line for one that is free over height.
type way struct {
	*freeLines
	i, j     int
	height   float64
	far      int // square of the distance to the nearest found, in steps
	toI, toJ int
}

// nearest returns the nearest free line and the square of its distance. All
// lines beside the columns are free.
func (f *freeLines) nearest(i, j int, height float64) (toI, toJ, far int) {
	w := way{freeLines: f, i: i, j: j, height: height, far: (i + 1) * (i + 1), toI: -1, toJ: j}
	w.take(f.nx[0], j)
	w.take(i, -1)
	w.take(i, f.ny[0])
	w.search(len(f.least)-1, 0, 0)
	return w.toI, w.toJ, w.far
}

// search looks into cell (a, b) of a level, nearer parts first.
func (w *way) search(level, a, b int) {
	if float64(w.least[level][b*w.nx[level]+a]) > w.height {
		return
	}
	if level == 0 {
		w.take(a, b)
		return
	}
	dx, dy := beyond(w.i, a<<level, (a+1)<<level), beyond(w.j, b<<level, (b+1)<<level)
	if dx*dx+dy*dy > w.far {
		return
	}
	nearA, nearB := 0, 0
	if w.i >= (2*a+1)<<(level-1) {
		nearA = 1
	}
	if w.j >= (2*b+1)<<(level-1) {
		nearB = 1
	}
	for k := range 4 {
		if c, d := 2*a+nearA^(k&1), 2*b+nearB^(k>>1); c < w.nx[level-1] && d < w.ny[level-1] {
			w.search(level-1, c, d)
		}
	}
}

// beyond is how far x is outside lo to hi-1.
func beyond(x, lo, hi int) int { return max(lo-x, x-hi+1, 0) }

// take takes a free line that is nearer; of equals that with the lower place,
// whatever the order of the search.
func (w *way) take(i, j int) {
	far := (i-w.i)*(i-w.i) + (j-w.j)*(j-w.j)
	if far < w.far || far == w.far && (j < w.toJ || j == w.toJ && i < w.toI) {
		w.far, w.toI, w.toJ = far, i, j
	}
}
