package moldbox

import "halfpour/geom"

// FinishSpec is what goes on the print before rubber does.
type FinishSpec struct {
	// SealCoat is the thickness of paint or primer that fills the layer lines
	// on the inside of the printed trays, mm; 0: none. All that the rubber is
	// to see is printed thinner by it: bodies on the floor, the floor and the
	// walls. Lettering keeps its outline and comes out bolder.
	SealCoat float64
}

// mostCoat is the thickest seal coat, mm: a thicker one runs off the letters
// and the bodies' feet no longer reach into the floor.
const mostCoat = 0.25

func (f FinishSpec) check(c *checker) {
	c.within("Finish.SealCoat", f.SealCoat, 0, mostCoat, "mm", "one or two coats of filler primer make 0.05 to 0.15 mm")
}

// uncoated is the printed frame that the coat makes the tray with its bodies,
// recesses and letters. Sockets are grown balls cut off below the floor: they
// are made smaller, not moved.
func (b *builder) uncoated(t tray, place func(geom.Solid) geom.Solid, name string, marks []mark) geom.Solid {
	coat := b.spec.Finish.SealCoat
	t.coat = coat
	var bodies, recesses []geom.Solid
	for _, s := range b.hollows() {
		bodies = append(bodies, place(geom.Offset(s, -coat)))
	}
	for _, k := range b.keys {
		if k.BumpLeft == (name == "left") {
			recesses = append(recesses, place(k.recess(coat)))
		} else {
			bodies = append(bodies, place(k.socket(b.spec.Keys.Clearance-coat)))
		}
	}
	for _, m := range marks {
		bodies = append(bodies, m.solid(-sink-coat, b.spec.Marking.Relief-coat))
	}
	return geom.Union(t.solid(recesses), t.bodies(bodies))
}

// recess is the hollow in the floor for the bump under a coat.
func (k Key) recess(coat float64) geom.Solid {
	return geom.Intersect(k.ball(coat), geom.HalfSpace(geom.Vec{Z: -k.side()}, seam))
}
