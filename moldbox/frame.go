package moldbox

import (
	"math"

	"halfpour/geom"
)

const (
	// lineStep is how far the inner wall steps out at the fill line; a wall
	// that would get too thin over it steps out less, down to leastStep.
	lineStep, leastStep = 0.5, 0.2

	sink      = 0.2 // bodies reach this far into the floor
	underKeys = 0.8 // floor left under the deepest recess
	seam      = 0.3 // solids run into each other by this
)

// tray is the empty frame of one half in print coordinates: a floor below
// z = 0 and walls round a rectangle that leans out upwards.
type tray struct {
	frame  FrameSpec
	inside geom.Box // the rubber's rectangle at z = 0
	floor  float64
	fill   float64 // height of the fill line
	rim    float64 // height of the walls
	lean   float64 // how far the walls lean out per height
	coat   float64 // by which floor and walls are printed back from the rubber
}

func newTray(spec Spec, inside geom.Box, fill float64) tray {
	return tray{
		frame:  spec.Frame,
		inside: inside,
		floor:  math.Max(spec.Frame.Floor, spec.Keys.Depth+spec.Keys.Clearance+underKeys) + spec.Finish.SealCoat,
		fill:   fill,
		rim:    fill + spec.Frame.Freeboard,
		lean:   math.Tan(spec.Frame.Draft),
	}
}

// half has the sizes of a half alone.
func (t tray) half(name string) Half {
	inside := t.inside // in the parting plane, up to the fill line
	inside.Min.Z, inside.Max.Z = 0, t.fill
	return Half{Name: name, FillHeight: t.fill, RimHeight: t.rim, Floor: t.floor, Inside: inside, Outside: t.outside()}
}

// rectangle is the inner walls' rectangle at height z, moved out by out.
func (t tray) rectangle(z, out float64) geom.Box {
	d := out + z*t.lean
	v := geom.Vec{X: d, Y: d}
	return geom.Box{Min: t.inside.Min.Sub(v), Max: t.inside.Max.Add(v)}
}

// stack is a solid from z0 to z1 parallel to the inner walls, out of them by
// out.
func (t tray) stack(z0, z1, out float64) geom.Solid {
	return t.leaning(z0, z1, out, t.frame.Draft)
}

// leaning is a block from z0 to z1 whose base is out of the inner walls by out
// and whose sides lean out upwards by the angle draft.
func (t tray) leaning(z0, z1, out, draft float64) geom.Solid {
	base := t.rectangle(z0, out)
	base.Min.Z, base.Max.Z = z0, z1
	corner := math.Max(0, t.frame.Corner+out+z0*t.lean)
	return geom.DraftedBlock{Base: base, Corner: corner, Draft: draft}.Solid()
}

// outside is the frame's box, tabs included.
func (t tray) outside() geom.Box {
	b := t.rectangle(t.rim, t.frame.Wall)
	b.Min.Z, b.Max.Z = -t.floor, t.rim
	for _, tab := range t.tabBoxes() {
		b = b.Union(tab)
	}
	return b
}

// step is how far the wall steps out at the fill line.
func (t tray) step() float64 { return math.Min(lineStep, t.frame.Wall-t.coat-leastRim) }

// hollows are what the inside takes out of the outer block: the inside itself,
// and the freeboard, which begins with a sloping step that marks the fill
// line. The step slopes at 45° so that it prints without support either way
// up, and so that the rubber's level meets it in an edge. Both run on through
// the top: were one to end where the other begins, the mesher would look for
// surface between them.
func (t tray) hollows() []geom.Solid {
	low, top := t.fill-0.1, t.rim+1
	back := t.coat * math.Hypot(1, t.lean) // along the floor
	return []geom.Solid{
		t.stack(-t.coat, top, back),
		geom.Intersect(t.leaning(low, top, -0.1*(1-t.lean)+back, math.Pi/4), t.stack(low, top, t.step()+back)),
	}
}

// tabBoxes are the two tabs to pry at, at floor level in the middle of the
// short sides, reaching into the floor.
func (t tray) tabBoxes() []geom.Box {
	if t.frame.PryTab == 0 {
		return nil
	}
	b := t.rectangle(-t.floor, t.frame.Wall)
	size, mid := b.Size(), b.Centre()
	out, in := t.frame.PryTab+t.lean*t.floor, t.frame.Wall
	tab := func(x0, x1, y0, y1 float64) geom.Box {
		return geom.Box{Min: geom.Vec{X: x0, Y: y0, Z: -t.floor}, Max: geom.Vec{X: x1, Y: y1}}
	}
	half := tabWidth / 2
	if size.X >= size.Y {
		half = math.Min(half, size.Y/4)
		return []geom.Box{
			tab(b.Min.X-out, b.Min.X+in, mid.Y-half, mid.Y+half),
			tab(b.Max.X-in, b.Max.X+out, mid.Y-half, mid.Y+half),
		}
	}
	half = math.Min(half, size.X/4)
	return []geom.Box{
		tab(mid.X-half, mid.X+half, b.Min.Y-out, b.Min.Y+in),
		tab(mid.X-half, mid.X+half, b.Max.Y-in, b.Max.Y+out),
	}
}

// tabWidth is the width of a tab to pry at, mm: a thumb's.
const tabWidth = 18.0

// solid is the tray with its recesses taken out of the floor.
func (t tray) solid(recesses []geom.Solid) geom.Solid {
	outer := t.stack(-t.floor, t.rim, t.frame.Wall)
	if tabs := t.tabBoxes(); len(tabs) > 0 {
		parts := []geom.Solid{outer}
		for _, b := range tabs {
			parts = append(parts, geom.Block(b))
		}
		outer = geom.Union(parts...)
	}
	return geom.Subtract(outer, append(t.hollows(), recesses...)...)
}

// bodies cuts what stands on the floor: from a little below the floor's top,
// and ending inside the walls.
func (t tray) bodies(all []geom.Solid) geom.Solid {
	room := t.stack(-sink-t.coat, t.rim-leastStep, t.frame.Wall/2)
	return geom.Intersect(room, geom.Union(all...))
}

// fillSolid holds all the rubber: it ends inside the walls, in the floor below
// the recesses, and at the fill line.
func (t tray) fillSolid() geom.Solid {
	return t.stack(-(t.floor - underKeys/2), t.fill, t.frame.Wall/2)
}

// block is the rubber's room above the parting plane, run on below it a little
// so that two of them overlap back to back.
func (t tray) block() geom.Solid { return t.stack(-seam, t.fill, 0) }
