package picture

import "math"

// The surroundings of a cell are asked in openDirections directions, at
// openSteps pixels (in a picture 1000 high), how far they stand up over it;
// the farther away, the less it counts.
// Neighbouring cells take turns with the directions.
const openDirections, openTurns = 12, 3

var (
	openSteps   = [...]float64{1.5, 4, 10, 24, 56}
	openWeights = [len(openSteps)]float32{1, 0.95, 0.85, 0.7, 0.4}
	openInverse = [len(openSteps)]float32{1, 1 / 0.95, 1 / 0.85, 1 / 0.7, 1 / 0.4}
)

const (
	openBias     = 0.08 // sine of a rise that is no obstacle: facets are not hollows
	openStrength = 1.5
)

// openness finds for each cell how much of its surroundings it sees (after
// Bavoil & Sainz, Image-space horizon-based ambient occlusion, 2008).
type openness struct {
	*cells
	taps [openDirections][len(openSteps)]tap
	low  [len(openSteps)]float32 // mm over a cell's plane up to which nothing at a step counts
	open []float32
}

// tap is where to look, in cells.
type tap struct{ dx, dy int }

// tapAt is at least a cell away.
func tapAt(pixels, dx, dy float64) tap {
	far := max(1, pixels/perCell)
	return tap{int(math.Round(far * dx)), int(math.Round(far * dy))}
}

func newOpenness(c *cells, s Scene) *openness {
	o := &openness{cells: c, open: make([]float32, len(c.places))}
	size := max(1, float64(s.Height)/1000)
	// A tap is half a cell nearer than it should be at most. At the near end of the model a
	// pixel is smaller, and so it is aslant.
	sin, cos := math.Sincos(s.Camera.Perspective / 2)
	for i, step := range openSteps {
		far := max(1, 0.75*size*step/perCell) - 0.5*math.Sqrt2
		o.low[i] = float32(openBias * far * perCell * float64(c.pixel) * (1 - sin) * cos * cos)
	}
	for d := range o.taps {
		sin, cos := math.Sincos(2 * math.Pi * (float64(d) + 0.5) / openDirections)
		_, uneven := math.Modf(float64(d) * math.Phi) // so that the steps make no bands
		for i, step := range openSteps {
			o.taps[d][i] = tapAt(size*step*(0.75+0.5*uneven), cos, sin)
		}
	}
	return o
}

// reach is all that cells look at.
func (o *openness) reach() (list []tap) {
	for _, taps := range o.taps {
		list = append(list, taps[:]...)
	}
	return list
}

// ask is how open a cell is, when all have been looked at.
func (o *openness) ask(x, y int) float32 { return o.sees(x, y, (x+y)%openTurns, openTurns) }

// askAll asks in all directions, whose turn it is or not.
func (o *openness) askAll(x, y int) float32 { return o.sees(x, y, 0, 1) }

// sees is how open a cell is in the directions from first on, some steps apart.
func (o *openness) sees(x, y, first, steps int) float32 {
	if o.places[y*o.width+x] == farBehind {
		return 1
	}
	hidden := float32(0)
	for d := first; d < openDirections; d += steps {
		hidden += o.rise(x, y, &o.taps[d])
	}
	return max(0, 1-hidden*openStrength*float32(steps)/openDirections)
}

// rise returns how high the model stands over the tangent plane of a cell in
// one direction, as the sine of the angle, weighted.
func (o *openness) rise(x, y int, taps *[len(openSteps)]tap) float32 {
	k := y*o.width + x
	p, n := o.places[k], o.normals[k]
	most := float32(0)
	for i := range taps {
		t := &taps[i]
		u, v := x+t.dx, y+t.dy
		if uint(u) >= uint(o.width) || uint(v) >= uint(o.height) {
			break
		}
		q := &o.places[v*o.width+u]
		dx, dy, dz := q.x-p.x, q.y-p.y, q.z-p.z
		high := n.x*dx + n.y*dy + n.z*dz
		if !(high > o.low[i]) {
			continue
		}
		// Only what rises more than all before it is worth a root.
		far := dx*dx + dy*dy + dz*dz
		if least := most*openInverse[i] + openBias; high*high > least*least*far && *q != farBehind {
			most = (high/float32(math.Sqrt(float64(far))) - openBias) * openWeights[i]
		}
	}
	return most
}
