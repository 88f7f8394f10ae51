package moldbox

import (
	"fmt"

	"halfpour/geom"
)

// partWire is one wire of a part: the hook first, then the keepers.
type partWire struct {
	name   string
	keeper int // index of the cavity's keeper; isHook for the hook
	fit    float64
	axis   wireAxis // in the hook's plane
}

const isHook = -1

func (w partWire) hook() bool { return w.keeper == isHook }

// called is the wire's name in a sentence.
func (w partWire) called() string {
	if w.hook() && w.name == namelessHook {
		return "the " + namelessHook
	}
	return w.name
}

const namelessHook = "hook"

// wires lays out all wires of a cavity whose head has the given scale.
func (v Cavity) wires(scale float64) []partWire {
	var ws []partWire
	if v.Hook != nil {
		ws = append(ws, partWire{hookName(v.Hook.Name), isHook, v.Hook.Fit, v.Hook.axis()})
	}
	for i, k := range v.Keepers {
		name := k.Name
		if name == "" {
			name = fmt.Sprintf("keeper %d", i+1)
		}
		for n := range max(1, k.Count) {
			ws = append(ws, partWire{name, i, k.Fit, k.axis(v, scale, n)})
		}
	}
	return ws
}

func hookName(given string) string {
	if given == "" {
		return namelessHook
	}
	return given
}

// PlacedWire is one wire of a cavity in the mold.
type PlacedWire struct {
	Name   string
	Keeper int        // index in the cavity's keepers; below 0 for its hook
	Wire   geom.Solid // at its true size
	Bed    geom.Solid // up to the mold's edge where the wire leaves it

	Diameter float64 // mm
	Volume   float64 // mm³
	InHead   float64 // what of it lies in the cold head, mm³
	Length   float64 // of its axis, eye ring included, mm
	Cut      []Stretch
}

// Stretch is a straight stretch of wire and the bend at its end, as they are
// made at the bench. An eye's ring is a stretch of its own, first.
type Stretch struct {
	Straight float64 // mm, without the bends; 0 for a bend that follows another
	Bend     float64 // radians, left positive as seen from the left flank; 0 at the wire's end
	Inside   float64 // radius inside the bend, mm
}

// layWires puts the wires of a part into its cavity. A stretch that leaves the
// mold gets a bed through the rubber's edge into the frame's wall, as a funnel
// does; one that is too short to leave is found.
func (b *builder) layWires(p *part, c *Placed) {
	there := p.turn.Then(geom.Move(p.move))
	var wires, beds []geom.Solid
	for i, w := range p.wires {
		beyond := b.spec.Frame.Wall + 1 + w.axis.wire/2 + w.fit
		inner, lacks := w.axis.cutAt(b.row.inside, beyond, there)
		if lacks > 0 {
			b.findings = append(b.findings, tooShortToLeave(p, c, w, lacks))
		}
		placed := PlacedWire{
			Name: w.name, Keeper: w.keeper, Wire: w.axis.tube(w.axis.wire/2, there), Bed: inner.bed(w.fit, there),
			Diameter: w.axis.wire, Volume: w.axis.volume(), InHead: p.shares[i], Length: w.axis.length(), Cut: w.axis.stretches(),
		}
		c.Wires = append(c.Wires, placed)
		wires, beds = append(wires, placed.Wire), append(beds, placed.Bed)
	}
	if len(wires) > 0 {
		c.Wire, c.Bed = geom.Union(wires...), geom.Union(beds...)
	}
}

func tooShortToLeave(p *part, c *Placed, w partWire, lacks float64) Finding {
	at := p.turn.Point(w.axis.pieces[w.axis.out-1].to).Add(p.move)
	what, cause := "the last stretch of "+w.called(), Cause("")
	if w.hook() && len(p.Hook.Points) == 0 {
		what, cause = "the shank of "+w.called(), ShortShank
	}
	return Finding{Severity: Stop, Code: "wire-ends-inside", Cavity: c.Name, At: &at, HeadAt: p.inFile(at),
		Value: lacks, Limit: 0, Unit: "mm",
		Message: fmt.Sprintf("%s should leave the mold but ends %.1f mm short of its edge", what, lacks),
		Cause:   cause}
}

// stretches lists the wire from its eye or first point on.
func (a wireAxis) stretches() []Stretch {
	var list []Stretch
	if a.ring > 0 {
		list = append(list, Stretch{Bend: fullTurn, Inside: a.ring - a.wire/2})
	}
	open := false // the last stretch waits for its bend
	for i, p := range a.pieces {
		if p.straight() {
			length := p.length()
			if i == 0 && a.ring > 0 {
				length += p.from.Norm() - a.ring
			}
			if open { // a sharp corner
				list[len(list)-1].Bend = signedTurn(a.pieces[i-1], p)
			}
			list, open = append(list, Stretch{Straight: length}), true
			continue
		}
		if !open {
			list = append(list, Stretch{})
		}
		last := &list[len(list)-1]
		last.Bend, last.Inside, open = p.sweep, p.radius()-a.wire/2, false
	}
	return list
}
