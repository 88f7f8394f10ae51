package heat

import (
	"slices"

	"halfpour/geom"
)

// Melt stops flowing when so much of it is solid: a freezing range's slurry at the
// tip, sooner or later (a fifth to a half, from memory, of what Flemings, Br.
// Foundryman 57 (1964) 312, and Campbell, Castings, say). A pure metal's freezes
// from the walls and flows for longer.
const stopsSoonest, stopsLatest = 0.2, 0.5

// outOfReach is the share of a body that new melt must no longer reach for it to
// count as stopped.
const outOfReach = 0.02

// Flow is until when melt could still flow into all of a body if it came from the
// funnel only then.
type Flow struct {
	Soonest, Latest float64  // s from the pour; 0 when it always can
	At              geom.Vec // the middle of what melt no longer reaches first
}

// flow follows how long melt can flow to each part.
type flow struct {
	near    [][]int32 // of each of cast, those it is joined to
	volumes []float64 // of bodies
	bodies  []Flow

	followed []int // bodies that are cast
}

func newFlow(s *state, f *feed) *flow {
	w := &flow{near: make([][]int32, len(f.cast)), volumes: make([]float64, len(s.g.scene.Bodies)), bodies: make([]Flow, len(s.g.scene.Bodies))}
	for _, l := range f.ways {
		w.near[l[0]] = append(w.near[l[0]], l[1])
		w.near[l[1]] = append(w.near[l[1]], l[0])
	}
	for _, p := range f.cast {
		w.volumes[s.g.parts[p].body] += s.volume[p]
	}
	for body, v := range w.volumes {
		if v > 0 {
			w.followed = append(w.followed, body)
		}
	}
	return w
}

// see looks after a step which bodies have stopped. Melt reaches a part as long as
// it flows in one beside it: what lies at the skin is a sliver, not a way.
func (w *flow) see(s *state, f *feed, share []float64) {
	if !slices.ContainsFunc(w.followed, func(body int) bool { return w.bodies[body].Latest == 0 }) {
		return
	}
	for _, late := range []bool{false, true} {
		limit := stopsSoonest
		if late {
			limit = stopsLatest
		}
		sets, fed := f.melt(share, limit)
		flows := func(i int32) bool { return share[i] < limit && fed[sets.Root(i)] }
		lost := make([]float64, len(w.bodies))
		at := make([]geom.Vec, len(w.bodies))
		for i, p := range f.cast {
			reached := flows(int32(i))
			for _, j := range w.near[i] {
				reached = reached || flows(j)
			}
			if !reached {
				body := s.g.parts[p].body
				lost[body] += s.volume[p]
				at[body] = at[body].Add(s.g.parts[p].centre.Mul(s.volume[p]))
			}
		}
		for body, x := range lost {
			b := &w.bodies[body]
			switch {
			case x < outOfReach*w.volumes[body] || x == 0:
			case late && b.Latest == 0:
				b.Latest = s.time
			case !late && b.Soonest == 0:
				b.Soonest, b.At = s.time, at[body].Mul(1/x)
			}
		}
	}
}
