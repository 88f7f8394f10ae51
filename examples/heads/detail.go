package heads

import (
	"math"

	"halfpour/geom"
)

// The minnow's details, in mm. Invented.
const (
	scaleRows   = 13   // from the back to the belly
	scaleLength = 1.2  // from one column to the next
	scaleRise   = 0.18 // of a scale's free edge over the body
	scalesEnd   = -1.0 // where the last column runs out

	gillRise    = 0.30
	gillRamp    = 2.6  // length over which the plate rises to its edge
	cheekDepth  = 0.14 // of the groove ahead of the gill plate
	mouthDepth  = 0.34
	mouthWidth  = 0.30
	mouthLength = 4.3

	nostrilRadius, nostrilDepth = 0.40, 0.24

	socketRadius = 1.75
	socketDepth  = 0.8
	socketRim    = 0.3 // width of the flat rim round a socket
	socketBlend  = 1.0 // and of its slope down to the body
)

// tract numbers the parts of the surface between which it has a step or a rim,
// from the nose: each stands over the next at their border.
type tract int

const (
	jawTract  tract = -3 // below the mouth, down to the chin
	eyeTract  tract = -2
	headTract tract = -1 // ahead of the gill plate's edge
	tailTract tract = 1000
)

// tractAt returns the tract of a place. Behind the gill plate each column of
// scales is one.
func tractAt(x, angle float64) tract {
	v := share(angle)
	switch {
	case x > scalesEnd:
		return tailTract
	case x > gillEdge(v):
		return scaleColumn(x, v)
	case x < minnowNose+mouthLength && v > mouthLine(x):
		return jawTract
	case math.Abs(x-leftSocket.centre.X) < 1.2*socketRadius && leftSocket.holds(minnowSurface(x, angle)):
		return eyeTract
	}
	return headTract
}

// minnowPoint returns the point of the finished surface at a site.
func minnowPoint(at site) geom.Vec {
	p := minnowSurface(at.x, at.angle)
	if d := relief(at); d != 0 {
		p = p.Add(minnowNormal(at.x, at.angle).Mul(d))
	}
	return leftSocket.carve(p)
}

// relief returns how far the surface stands over the smooth body.
func relief(at site) float64 {
	v := share(at.angle)
	if at.tract > headTract {
		return scales(at, v)
	}
	return gill(at.x-gillEdge(v), v) + mouth(at.x, v, at.half) + nostril(at.x, v, at.half)
}

// share lays out the details round the body: the share of the half girth
// between the back and an angle, at the thickest section.
var share = func() func(angle float64) float64 {
	thickest := newSection(-6)
	return func(angle float64) float64 {
		t := angle / math.Pi * sectionSteps
		i := min(int(t), sectionSteps-1)
		a, b := thickest.length[i], thickest.length[i+1]
		return (a + (b-a)*(t-float64(i))) / thickest.half()
	}
}()

// gillEdge is where the gill plate ends at share v.
func gillEdge(v float64) float64 {
	t := (v - 0.54) / 0.46
	return -8.6 - 3.2*t*t
}

// gill is the plate at distance d behind its edge, with a groove at its front.
func gill(d, v float64) float64 {
	there := smoothstep(0.1, 0.26, v) * (1 - 0.6*smoothstep(0.86, 1, v))
	plate := gillRise * smoothstep(-gillRamp, 0, d)
	groove := cheekDepth * bell(d+gillRamp+0.3, 0.4)
	return there * (plate - groove)
}

// mouth is the groove between the jaws, from just behind the nose's tip back
// and down.
func mouth(x, v, half float64) float64 {
	back := x - minnowNose
	run := smoothstep(0.25, 0.8, back) * (1 - smoothstep(mouthLength-0.5, mouthLength, back))
	return -mouthDepth * run * bell((v-mouthLine(x))*half, mouthWidth)
}

// mouthLine is the bottom of that groove.
func mouthLine(x float64) float64 { return 0.53 + 0.026*(x-minnowNose) }

func nostril(x, v, half float64) float64 {
	d := math.Hypot(x-minnowNose-3.0, (v-0.27)*half)
	return -nostrilDepth * (1 - smoothstep(0.4*nostrilRadius, 1.3*nostrilRadius, d))
}

func bell(x, width float64) float64 { return math.Exp(-x * x / (width * width)) }

// scaleColumn returns which column of scales shows at a place. They are tiles
// in columns across the body, each column half a tile askew to the one ahead
// of it and under its free edge.
func scaleColumn(x, v float64) tract {
	along, across := scalePlace(x, v)
	column := math.Floor(along) - 2
	for along-column > scaleEdge(column, across) {
		column++
	}
	return tract(column)
}

// scalePlace counts columns from ahead of the nose, and rows from the back.
func scalePlace(x, v float64) (along, across float64) {
	return (x - 2*minnowNose) / scaleLength, v * scaleRows
}

// scales is the height of the scale of the site's column, which rises towards
// its free edge. Those that come out under the gill plate and those at the
// shoulder lie flat.
func scales(at site, v float64) float64 {
	if at.tract == tailTract {
		return 0
	}
	along, across := scalePlace(at.x, v)
	column := float64(at.tract)
	t := 1 + (along-column-scaleEdge(column, across))/1.5
	t = math.Min(math.Max(t, 0), 1)
	grown := smoothstep(0, 0.9, at.x-gillEdge(v)) * (1 - smoothstep(scalesEnd-0.8, scalesEnd, at.x))
	return scaleRise * t * t * grown
}

// scaleEdge is how far the free edge of a column's scale reaches behind the
// column: a rounded tile.
func scaleEdge(column, across float64) float64 {
	askew := 0.5 * math.Mod(column, 2)
	d := 2 * (across - askew - math.Round(across-askew)) // -1 to 1 over the tile
	return 0.5 + 0.5*math.Sqrt(1-0.96*d*d)
}

// socket is a spherical recess in a flat rim, made by moving points along its
// axis only.
type socket struct{ centre, axis geom.Vec }

// leftSocket is the left eye: its rim lies just under the smooth flank in the
// middle and stands out of it above and below.
var leftSocket = func() socket {
	const x, angle = -14.6, 0.42 * math.Pi
	n := minnowNormal(x, angle)
	return socket{minnowSurface(x, angle).Add(n.Mul(-0.04)), n}
}()

// split returns p as its height along the axis and the rest, from the centre.
func (s socket) split(p geom.Vec) (height float64, flat geom.Vec) {
	v := p.Sub(s.centre)
	height = v.Dot(s.axis)
	return height, v.Sub(s.axis.Mul(height))
}

// holds reports whether p is within the rim.
func (s socket) holds(p geom.Vec) bool {
	height, flat := s.split(p)
	return height > -socketReach && flat.Norm() < socketRadius
}

// socketReach tells the surface at a socket from that of the other flank.
const socketReach = 2.5

// carve moves p along the axis onto the socket or its rim, if it is near.
func (s socket) carve(p geom.Vec) geom.Vec {
	height, flat := s.split(p)
	far := flat.Norm()
	if height < -socketReach {
		return p
	}
	if far < socketRadius {
		// A sphere that leaves a recess of this depth within this radius.
		const sphere = (socketRadius*socketRadius + socketDepth*socketDepth) / (2 * socketDepth)
		height = sphere - socketDepth - math.Sqrt(sphere*sphere-far*far)
	} else {
		height *= smoothstep(socketRadius+socketRim, socketRadius+socketRim+socketBlend, far)
	}
	return s.centre.Add(flat).Add(s.axis.Mul(height))
}
