package moldbox

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"

	"halfpour/geom"
	"halfpour/geom/column"
)

// leastProminence is the height of a pocket worth a vent, mm: less is the
// roughness of a mesh.
const leastProminence = 0.3

// venting holds what the vents of one cavity need to know.
type venting struct {
	ctx     context.Context // ends the search
	spec    VentSpec
	neck    float64 // half width that the gate vents by itself
	part    *part
	head    geom.Solid // in the mold
	others  obstacles  // all but the head
	inside  geom.Box
	corner  float64
	end     float64    // y where vents end beyond the top edge
	planned []geom.Vec // where vents leave the head
}

// plan returns the vents of the cavity: one from each high point that the gate
// does not serve, and more beside the gate until Count is reached.
func (v *venting) plan(name string) ([]vent, []Finding) {
	var vents []vent
	gate := v.part.gate.at
	for _, p := range v.part.cut.peaks(leastProminence) {
		if math.Abs(p.at.X-gate.X) <= v.neck && p.at.Y <= gate.Y+leastProminence {
			continue
		}
		if ch, ok := v.pocket(p); ok { // else the air check looks for a way
			vents = append(vents, ch)
		}
	}
	for len(vents) < v.spec.Count && v.ctx.Err() == nil {
		// The highest free place of the outline that no vent has yet.
		ch, ok := v.highestFree(func(geom.Vec) bool { return true })
		if !ok {
			at := gate.Add(v.part.move)
			f := Finding{Severity: Note, Code: "vent-blocked", Cavity: name, At: &at, HeadAt: v.part.inFile(at),
				Message: fmt.Sprintf("there is room for %d of %d vents next to the gate", len(vents), v.spec.Count)}
			if len(vents) == 0 { // the gate is the highest: air can leave by it
				f.Severity = Warn
			}
			return vents, []Finding{f}
		}
		vents = append(vents, ch)
	}
	return vents, nil
}

// pocket looks for a way up from a high point or from as near below it as the
// pocket of air reaches.
func (v *venting) pocket(p peak) (vent, bool) {
	if ch, ok := v.route(p.at.Add(v.part.move)); ok {
		return ch, true
	}
	spill := p.at.Y - p.prominence
	if gate := v.part.gate.at.Y; gate < p.at.Y {
		spill = math.Max(spill, gate)
	}
	return v.highestFree(func(at geom.Vec) bool {
		local := at.Sub(v.part.move)
		return local.Y >= spill && v.part.cut.joined(p.at, local, spill)
	})
}

// highestFree routes a vent from the highest top of a column that ask agrees
// to and that has a way.
func (v *venting) highestFree(ask func(geom.Vec) bool) (vent, bool) {
	cut := v.part.cut
	var tops []geom.Vec
	for i := range cut.columns {
		if top, ok := cut.top(cut.x(i)); ok {
			tops = append(tops, geom.Vec{X: cut.x(i), Y: top}.Add(v.part.move))
		}
	}
	sort.SliceStable(tops, func(i, j int) bool { return tops[i].Y > tops[j].Y })
	gap := leastRubber + v.spec.Width/2
	tried := map[int]bool{} // half millimetres along x: nearer tries differ too little
	for _, at := range tops {
		slot := int(math.Floor(at.X / 0.5))
		if v.ctx.Err() != nil || tried[slot] || v.others.distance(at) < gap || v.taken(at) || !ask(at) {
			continue
		}
		tried[slot] = true
		if ch, ok := v.route(at); ok {
			return ch, true
		}
	}
	return vent{}, false
}

func (v *venting) taken(at geom.Vec) bool {
	return slices.ContainsFunc(v.planned, func(p geom.Vec) bool { return p.Dist(at) < leastRubber+v.spec.Width })
}

// free looks for a vent out of a pocket: from the highest place of its roof in
// the parting plane, where a vent can be cut, or from below it when there is
// no way from there.
func (v *venting) free(p column.Pocket, own []vent) (vent, bool) {
	var roof []geom.Vec
	for _, at := range p.Reach {
		if math.Abs(at.Z) <= airStep/2 && at.Y > p.Spill {
			at.Z = 0
			roof = append(roof, at)
		}
	}
	sort.SliceStable(roof, func(i, j int) bool { return roof[i].Y > roof[j].Y })
	const most = 6 // places tried, a vent's width apart
	var tried []geom.Vec
	for _, at := range roof {
		near := false
		for _, q := range tried {
			near = near || q.Dist(at) < v.spec.Width
		}
		if near || len(tried) == most || v.others.distance(at) < leastRubber+v.spec.Width/2 {
			continue
		}
		tried = append(tried, at)
		if ch, ok := v.route(at); ok {
			return ch, true
		}
		if way, ok := v.around(at, own); ok {
			return v.make(way...), true
		}
	}
	return vent{}, false
}
