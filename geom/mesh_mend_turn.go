package geom

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
		if !twoSided || min(area[kept], area[turned]) == 0 {
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
	out := make([][3]beside, len(d.mesh.Triangles))
	for t := range out {
		out[t] = [3]beside{{triangle: -1}, {triangle: -1}, {triangle: -1}}
	}
	odd := false
	join := func(x, y outEdge, against bool) {
		out[x.edge/3][x.edge%3] = beside{int(y.edge / 3), against}
		out[y.edge/3][y.edge%3] = beside{int(x.edge / 3), against}
	}
	e := listEdges(d.mesh)
	for v := range d.mesh.Vertices {
		e.visit(int32(v), func(_ int32, there, back []outEdge) {
			switch {
			case len(there) == 1 && len(back) == 1:
				join(there[0], back[0], false)
			case len(there) == 2 && len(back) == 0:
				join(there[0], there[1], true)
				odd = true
			}
		})
	}
	if !odd {
		return nil
	}
	return out
}
