package geom

import "math"

// turnFacets turns over the smaller part of each shell in which some facets
// face the other way than the rest. Shells hang together by the edges of just
// two triangles; one that has no two sides, as a Möbius strip, is left alone.
func (d *mender) turnFacets() {
	beside := d.neighbours()
	if beside == nil {
		return
	}
	n := len(d.mesh.Triangles)
	const unseen, kept, turned = 0, 1, 2
	state := make([]uint8, n)
	count, first := 0, n
	var shell []int
	for seed := range n {
		if state[seed] != unseen {
			continue
		}
		state[seed] = kept
		shell = append(shell[:0], seed)
		area, twoSided := [3]float64{}, true
		for i := 0; i < len(shell); i++ {
			t := shell[i]
			p, q, r := d.mesh.Corners(t)
			area[state[t]] += q.Sub(p).Cross(r.Sub(p)).Norm()
			for _, b := range beside[t] {
				if b.triangle < 0 {
					continue
				}
				want := state[t]
				if b.against {
					want = kept + turned - want
				}
				switch state[b.triangle] {
				case unseen:
					state[b.triangle] = want
					shell = append(shell, b.triangle)
				case want:
				default:
					twoSided = false
				}
			}
		}
		smaller := uint8(turned)
		if area[turned] > area[kept] {
			smaller = kept
		}
		if !twoSided || math.Min(area[kept], area[turned]) == 0 {
			continue
		}
		for _, t := range shell {
			if state[t] == smaller {
				c := &d.mesh.Triangles[t]
				c[1], c[2] = c[2], c[1]
				count, first = count+1, min(first, t)
			}
		}
	}
	if count > 0 {
		at, _, _ := d.mesh.Corners(first)
		d.done(TurnedFacets, count, at, 0)
	}
}

// beside is what lies across an edge.
type beside struct {
	triangle int  // -1 where not just two triangles meet
	against  bool // it runs along the edge the same way, so faces the other way
}

// neighbours returns what lies across each edge, nil when all face alike.
func (d *mender) neighbours() [][3]beside {
	e := listEdges(d.mesh)
	for v := range d.mesh.Vertices {
		sortRun(e.runs[e.start[v]:e.start[v+1]])
	}
	out := make([][3]beside, len(d.mesh.Triangles))
	odd := false
	for t, c := range d.mesh.Triangles {
		for k := range c {
			out[t][k].triangle = -1
			if isCollapsed(c) {
				continue
			}
			there, back := e.between(c[k], c[(k+1)%3]), e.between(c[(k+1)%3], c[k])
			switch {
			case len(there) == 1 && len(back) == 1:
				out[t][k] = beside{int(back[0].edge / 3), false}
			case len(there) == 2 && len(back) == 0:
				other := int(there[0].edge / 3)
				if other == t {
					other = int(there[1].edge / 3)
				}
				out[t][k] = beside{other, true}
				odd = true
			}
		}
	}
	if !odd {
		return nil
	}
	return out
}
