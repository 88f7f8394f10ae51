package geom

import "math"

// The surroundings of a pixel are asked in openDirections directions, at
// openSteps pixels (in a picture 1000 high), how far they stand up over it;
// the farther away, the less it counts.
// Neighbouring pixels take turns with the directions.
const openDirections, openTurns = 12, 3

var (
	openSteps   = [...]float64{1.5, 4, 10, 24, 56}
	openWeights = [len(openSteps)]float32{1, 0.95, 0.85, 0.7, 0.4}
)

const (
	openBias     = 0.08 // sine of a rise that is no obstacle: facets are not hollows
	openStrength = 1.5
)

// openness finds for each pixel how much of its surroundings it sees (after
// Bavoil & Sainz, Image-space horizon-based ambient occlusion, 2008).
type openness struct {
	width, height int
	places        []vec3 // in camera axes, far behind where there is no model
	normals       []vec3
	taps          [openDirections][len(openSteps)]tap
	open          []float32
}

// tap is where to look, in pixels.
type tap struct{ dx, dy int }

func newOpenness(s Scene) *openness {
	n := s.Width * s.Height
	o := &openness{width: s.Width, height: s.Height,
		places: make([]vec3, n), normals: make([]vec3, n), open: make([]float32, n)}
	size := math.Max(1, float64(s.Height)/1000)
	for d := range o.taps {
		sin, cos := math.Sincos(2 * math.Pi * (float64(d) + 0.5) / openDirections)
		_, uneven := math.Modf(float64(d) * math.Phi) // so that the steps make no bands
		for i, step := range openSteps {
			far := size * step * (0.75 + 0.5*uneven)
			o.taps[d][i] = tap{int(math.Round(far * cos)), int(math.Round(far * sin))}
		}
	}
	return o
}

// farBehind is the place of nothing.
var farBehind = vec3{z: -1e18}

// look takes row y of the model.
func (o *openness) look(sh *shader, y int) {
	for x := range o.width {
		k := y*o.width + x
		sx, sy := perSide*x, perSide*y
		t := sh.triangle[sy*sh.width+sx]
		if t == -1 {
			o.places[k] = farBehind
			if f := sh.floor; f != nil {
				if near := float32(f.near(sx, sy)); near > 0 || !sh.view.perspective { // not over the horizon
					o.places[k], o.normals[k] = sh.view.place(float32(x)+0.5, float32(y)+0.5, near), f.face
				}
			}
			continue
		}
		o.places[k], o.normals[k] = sh.at(sx, sy), sh.normal(sx, sy, t)
	}
}

// side is of the blocks of pixels that are looked at together.
const blockSide = 4

func (o *openness) blockRows() int { return (o.height + blockSide - 1) / blockSide }

// first asks for the first pixel of each block in a row of blocks, and rest for
// the others. Most of a picture is flat and neither hidden nor in shadow: a block
// with one normal, whose corners and neighbours' say plain, is all plain.
func (o *openness) first(of []float32, j int, ask func(x, y int) float32) {
	y := j * blockSide
	for x := 0; x < o.width; x += blockSide {
		of[y*o.width+x] = ask(x, y)
	}
}

func (o *openness) rest(of []float32, j int, plain float32, ask func(x, y int) float32) {
	for x := 0; x < o.width; x += blockSide {
		flat := o.plainBlock(of, x, j*blockSide, plain)
		for y := j * blockSide; y < min((j+1)*blockSide, o.height); y++ {
			for u := x; u < min(x+blockSide, o.width); u++ {
				switch {
				case u == x && y == j*blockSide:
				case flat:
					of[y*o.width+u] = plain
				default:
					of[y*o.width+u] = ask(u, y)
				}
			}
		}
	}
}

func (o *openness) plainBlock(of []float32, x0, y0 int, plain float32) bool {
	for _, y := range [2]int{y0, y0 + blockSide} {
		for _, x := range [2]int{x0, x0 + blockSide} {
			if x >= o.width || y >= o.height || of[y*o.width+x] != plain {
				return false
			}
		}
	}
	n := o.normals[y0*o.width+x0]
	for y := y0; y <= y0+blockSide; y++ {
		for x := x0; x <= x0+blockSide; x++ {
			if o.normals[y*o.width+x] != n {
				return false
			}
		}
	}
	return true
}

// ask is how open a pixel is, when all have been looked at; smooth brings what
// neighbouring pixels have found together.
func (o *openness) ask(x, y int) float32 {
	if o.places[y*o.width+x] == farBehind {
		return 1
	}
	hidden := float32(0)
	for d := (x + y) % openTurns; d < openDirections; d += openTurns {
		hidden += o.rise(x, y, &o.taps[d])
	}
	return max(0, 1-hidden*openStrength*openTurns/openDirections)
}

// rise returns how high the model stands over the tangent plane of a pixel in
// one direction, as the sine of the angle, weighted.
func (o *openness) rise(x, y int, taps *[len(openSteps)]tap) float32 {
	k := y*o.width + x
	p, n := o.places[k], o.normals[k]
	most := float32(0)
	for i, t := range taps {
		u, v := x+t.dx, y+t.dy
		if uint(u) >= uint(o.width) || uint(v) >= uint(o.height) {
			break
		}
		q := o.places[v*o.width+u]
		dx, dy, dz := q.x-p.x, q.y-p.y, q.z-p.z
		if high := n.x*dx + n.y*dy + n.z*dz; high > 0 && q != farBehind {
			sine := high / float32(math.Sqrt(float64(dx*dx+dy*dy+dz*dz)))
			most = max(most, (sine-openBias)*openWeights[i])
		}
	}
	return most
}

// smooth is how open a pixel is, smoothed.
func (o *openness) smooth(x, y int) float32 { return o.mean(o.open, x, y) }

// mean is over a pixel and its neighbours, those twice as much that share a side
// with it, so that all turns of directions count about the same.
func (o *openness) mean(of []float32, x, y int) float32 {
	at := func(x, y int) float32 {
		x, y = min(max(x, 0), o.width-1), min(max(y, 0), o.height-1)
		return of[y*o.width+x]
	}
	sides := at(x-1, y) + at(x+1, y) + at(x, y-1) + at(x, y+1)
	corners := at(x-1, y-1) + at(x+1, y-1) + at(x-1, y+1) + at(x+1, y+1)
	return (4*at(x, y) + 2*sides + corners) / 16
}
