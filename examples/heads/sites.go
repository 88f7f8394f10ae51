package heads

// site is where a vertex of the minnow sits: along the axis, and at an angle
// about it from the back. Its tract says from which side of a step it takes
// its height.
type site struct {
	x, angle float64
	half     float64 // the half girth there
	tract    tract
}

// spread sets the sites of the planned rings, evenly round each.
func spread(plan []halfCount) [][]site {
	sites := make([][]site, len(plan))
	for i, ring := range plan {
		if ring.n == 0 {
			sites[i] = []site{{x: ring.x, tract: tractAt(ring.x, 0)}}
			continue
		}
		girth := newSection(ring.x)
		for k := 0; k <= ring.n; k++ {
			s := site{x: ring.x, angle: girth.angle(float64(k) / float64(ring.n)), half: girth.half()}
			s.tract = tractAt(s.x, s.angle)
			sites[i] = append(sites[i], s)
		}
	}
	return sites
}

// move is a wish to shift a site to the border of its tract.
type move struct {
	to  site
	far float64 // as a share of the facet's side that crosses the border
}

// moves are the wishes granted, by ring and place in it.
type moves []map[int]move

// at returns where a corner will be.
func (m moves) at(sites [][]site, c corner) site {
	if to, ok := m[c.ring][c.at]; ok {
		return to.to
	}
	return sites[c.ring][c.at]
}

// settle moves sites onto the borders between tracts, so that sides of facets
// run along steps and rims in place of across them. Of each side that crosses
// a border the nearer end goes; of several such wishes the least is granted.
func settle(sites [][]site) {
	m := make(moves, len(sites))
	for i := range m {
		m[i] = map[int]move{}
	}
	eachFacet(sites, func(f [3]corner) {
		for k := range f {
			m.wish(sites, f[k], f[(k+1)%3])
		}
	})
	m.giveWay(sites)
	m.takeBack(sites)
	for i := range sites {
		for k, to := range m[i] {
			sites[i][k] = to.to
		}
	}
}

// giveWay moves the neighbours of moved sites half-way to the middle of their
// own neighbours, where that keeps them in their tract and off the seam.
func (m moves) giveWay(sites [][]site) {
	type sum struct {
		x, angle, half float64
		n              int
		beside         bool // a moved one
	}
	sums := make([][]sum, len(sites))
	for i := range sums {
		sums[i] = make([]sum, len(sites[i]))
	}
	eachFacet(sites, func(f [3]corner) {
		for k, c := range f {
			for _, d := range [2]corner{f[(k+1)%3], f[(k+2)%3]} {
				to := m.at(sites, d)
				s := &sums[c.ring][c.at]
				s.x, s.angle, s.half, s.n = s.x+to.x, s.angle+to.angle, s.half+to.half, s.n+1
				if _, moved := m[d.ring][d.at]; moved {
					s.beside = true
				}
			}
		}
	})
	for i, ring := range sites {
		for k := 1; k < len(ring)-1; k++ {
			s, old := sums[i][k], ring[k]
			if _, moved := m[i][k]; moved || !s.beside {
				continue
			}
			n := float64(s.n)
			to := site{x: (old.x + s.x/n) / 2, angle: (old.angle + s.angle/n) / 2, half: (old.half + s.half/n) / 2}
			if to.tract = tractAt(to.x, to.angle); to.tract == old.tract {
				m[i][k] = move{to, 0}
			}
		}
	}
}

// takeBack takes back moves that would crush a facet or turn it over, the
// longest first.
func (m moves) takeBack(sites [][]site) {
	const leastLeft = 0.12 // share of its area that a facet must keep
	for again := true; again; {
		again = false
		eachFacet(sites, func(f [3]corner) {
			var before, after [3]site
			worst, far := -1, 0.0
			for k, c := range f {
				before[k], after[k] = sites[c.ring][c.at], m.at(sites, c)
				if to, ok := m[c.ring][c.at]; ok && to.far >= far {
					worst, far = k, to.far
				}
			}
			if worst >= 0 && flatArea(after) < leastLeft*flatArea(before) {
				delete(m[f[worst].ring], f[worst].at)
				again = true
			}
		})
	}
}

// flatArea is twice the area of a facet on the unrolled body.
func flatArea(f [3]site) float64 {
	ux, uy := f[1].x-f[0].x, f[1].angle-f[0].angle
	vx, vy := f[2].x-f[0].x, f[2].angle-f[0].angle
	return uy*vx - ux*vy
}

// eachFacet visits the facets of the left flank, corners counted by ring of
// sites. At the poles a facet has no angle to speak of and is left out.
func eachFacet(sites [][]site, visit func([3]corner)) {
	for i := 2; i < len(sites)-1; i++ {
		strip(len(sites[i-1])-1, len(sites[i])-1, func(f [3]corner) {
			for k := range f {
				f[k].ring += i - 1
			}
			visit(f)
		})
	}
}

// wish enters the move that would take one end of the side from p to q to the
// border that it crosses, if it crosses one.
func (m moves) wish(sites [][]site, p, q corner) {
	a, b := sites[p.ring][p.at], sites[q.ring][q.at]
	if a.tract == b.tract {
		return
	}
	between := func(t float64) site {
		mix := func(a, b float64) float64 { return a + (b-a)*t }
		s := site{x: mix(a.x, b.x), angle: mix(a.angle, b.angle), half: mix(a.half, b.half)}
		s.tract = tractAt(s.x, s.angle)
		return s
	}
	lo, hi := 0.0, 1.0
	for range 30 {
		if mid := (lo + hi) / 2; between(mid).tract == a.tract {
			lo = mid
		} else {
			hi = mid
		}
	}
	to := between(lo)
	to.tract = min(a.tract, between(hi).tract) // the upper side of a step
	end, far := p, lo
	seam := func(c corner) bool { return c.at == 0 || c.at == len(sites[c.ring])-1 }
	if lo > 0.5 && !(seam(q) && !seam(p)) || seam(p) && !seam(q) {
		end, far = q, 1-lo
	}
	if seam(end) && a.angle != b.angle || far > 0.6 {
		return
	}
	if old, ok := m[end.ring][end.at]; !ok || far < old.far {
		m[end.ring][end.at] = move{to, far}
	}
}
