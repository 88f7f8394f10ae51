package moldbox

import (
	"cmp"
	"context"
	"math"
	"sync"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// Lump is a thick place of the metal: what freezes late.
type Lump struct {
	Modulus float64 // volume over cooled surface in a window round it, mm
	Depth   float64 // from its middle to the nearest surface, mm
}

// lumps returns the thickest places of heads, sprues and runner. Wires count as
// metal and the open top of a funnel as not cooled, so that they are rather too
// thick. Cavities that are alike share theirs.
func (m *Mold) lumps(ctx context.Context) ([]Lump, error) {
	below := m.Left.Inside.Union(m.Right.Inside).Grow(m.Left.Inside.Size().Norm())
	below.Max.Y = m.Left.Inside.Max.Y
	var lumps []Lump
	var err error
	add := func(lump Lump, fault error) {
		err = cmp.Or(err, fault)
		if lump.Depth > 0 {
			lumps = append(lumps, lump)
		}
	}
	for i, c := range m.Cavities {
		if c.AlikeTo == i {
			add(m.made.parts[i].thickest(ctx))
			add(thickest(ctx, c.Sprue, below))
		}
	}
	if m.Runner != nil {
		add(thickest(ctx, m.Runner.Metal, below))
	}
	return lumps, err
}

// headLump is the thickest place of a head as modelled, looked for once: that takes
// long in a head of many facets, and no change of a job changes it. It is safe for
// concurrent use.
type headLump struct {
	mu    sync.Mutex
	found *Lump // nil until it has been looked for
}

// thickest is that of the part's head at its size.
func (p *part) thickest(ctx context.Context) (Lump, error) {
	p.lump.mu.Lock()
	defer p.lump.mu.Unlock()
	if p.lump.found == nil {
		box := p.Cavity.Head.BoundingBox()
		lump, err := thickest(ctx, p.Cavity.Head, box.Grow(box.Size().Norm()))
		if err != nil {
			return Lump{}, err
		}
		p.lump.found = &lump
	}
	k := p.toPart.Factor()
	return Lump{Modulus: k * p.lump.found.Modulus, Depth: k * p.lump.found.Depth}, nil
}

// KeepLumps takes from another mold what was found of the same heads. Nothing comes
// out otherwise for it.
func (m *Mold) KeepLumps(from *Mold) {
	for _, p := range m.made.parts {
		for _, q := range from.made.parts {
			if sameSolid(p.Cavity.Head, q.Cavity.Head) {
				p.lump = q.lump
			}
		}
	}
}

// thickest is the deepest place of a solid in a box. Its window reaches twice
// the depth to all sides, so that depth over modulus is near 3 in a ball, 2 in
// a round bar and 1 in a plate. Faces of the box are not cooled.
func thickest(ctx context.Context, metal geom.Solid, within geom.Box) (Lump, error) {
	at, depth, err := deepest(ctx, metal, metal.BoundingBox().Intersect(within))
	if err != nil || !(depth > 0) {
		return Lump{}, err
	}
	reach := geom.Vec{X: 2 * depth, Y: 2 * depth, Z: 2 * depth}
	window := geom.BoxOf(at.Sub(reach), at.Add(reach)).Intersect(within)
	lump := Lump{Depth: depth}
	if _, ok := meshOf(metal); ok { // whose facets are cut with the window
		v, err := geom.Integrate(ctx, metal, geom.IntegrateOptions{Within: window, RelTol: meshModulusShare})
		lump.Modulus = v.Best / v.Area
		return lump, err
	}
	lump.Modulus, err = sampledModulus(ctx, metal, window, depth/2)
	return lump, err
}

// meshModulusShare is how well the volume of a mesh in its window is measured: where
// that is not known by its facets, in a few small cells.
const meshModulusShare = 0.02

// modulusSteps is how many samples a window has along each side.
const modulusSteps = 24

// modulusBlock is how many of them along each side are one block.
const modulusBlock = 3

// sampledModulus is the volume of a solid in a box over its surface there, mm.
// Volume is what samples are inside; surface is what they weigh that are nearer
// to it than layer mm, the less the farther.
func sampledModulus(ctx context.Context, metal geom.Solid, box geom.Box, layer float64) (float64, error) {
	size := box.Size().Mul(1.0 / modulusSteps)
	at := func(x, y, z float64) float64 {
		return metal.Evaluate(geom.Vec{X: box.Min.X + x*size.X, Y: box.Min.Y + y*size.Y, Z: box.Min.Z + z*size.Z})
	}
	// Samples of a block whose middle is far from the surface are all on its side.
	const most = modulusSteps / modulusBlock
	far := layer + size.Mul(float64(modulusBlock-1)).Norm()/2
	middle := func(n int) float64 { return (float64(n) + 0.5) * modulusBlock }
	var inside, near [most]float64
	err := parallel.For(ctx, most, 0, func(slab int) {
		for block := range most * most {
			y, z := block/most, block%most
			whole := at(middle(slab), middle(y), middle(z))
			for k := range modulusBlock * modulusBlock * modulusBlock {
				v := whole
				if math.Abs(v) < far {
					of := func(block, n int) float64 { return float64(block*modulusBlock+n%modulusBlock) + 0.5 }
					v = at(of(slab, k/modulusBlock/modulusBlock), of(y, k/modulusBlock), of(z, k))
				}
				if v < 0 {
					inside[slab]++
				}
				near[slab] += math.Max(0, 1-math.Abs(v)/layer)
			}
		}
	})
	volume, surface := 0.0, 0.0
	for slab := range most {
		volume, surface = volume+inside[slab], surface+near[slab]
	}
	return volume * layer / math.Max(surface, 1), err
}

// depthShare is how well a depth is found, depthSteps how often a box is halved
// for it at most.
const depthShare, depthSteps = 0.03, 7

// deepest finds the place of a solid within a box that is farthest from its
// surface, and how far that is in mm, to depthShare where the box is not longer
// than a hundred depths. The depth is 0 where nothing of the solid is in the
// box.
func deepest(ctx context.Context, s geom.Solid, within geom.Box) (geom.Vec, float64, error) {
	var at geom.Vec
	depth := 0.0
	parts := []geom.Box{within}
	for range depthSteps + 1 {
		values := make([]float64, len(parts))
		if err := parallel.For(ctx, len(parts), 0, func(i int) {
			// A place that is less deep is of no matter when those about it cannot be deeper.
			values[i] = -geom.EvaluateBeyond(s, parts[i].Centre(), min(depth, (1+depthShare)*depth-parts[i].HalfDiagonal()))
		}); err != nil {
			return at, 0, err
		}
		for i, b := range parts {
			if values[i] > depth {
				at, depth = b.Centre(), values[i]
			}
		}
		var next []geom.Box
		for i, b := range parts {
			// A value changes no faster than the distance.
			if values[i]+b.HalfDiagonal() > (1+depthShare)*depth {
				for k := range 8 {
					next = append(next, geom.BoxOf(b.Centre(), b.Corner(k)))
				}
			}
		}
		parts = next
	}
	return at, depth, nil
}
