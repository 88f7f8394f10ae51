package geom

// joinStrands ties strands end to end into loops, in the order in which they
// come, and leaves out the points that the outline can do without.
func joinStrands(found [][]strand, tolerance float64) Outline {
	var all []strand
	for _, s := range found {
		all = append(all, s...)
	}
	starts := make(map[int]int, len(all))
	for i, s := range all {
		starts[s.from] = i
	}
	used := make([]bool, len(all))
	var out Outline
	for i := range all {
		var loop []Vec2
		for k, ok := i, true; ok && !used[k]; k, ok = starts[all[k].to] {
			used[k] = true
			points := all[k].points
			loop = append(loop, points[:len(points)-1]...)
		}
		if loop = thinLoop(loop, tolerance/2); len(loop) >= 3 {
			out = append(out, loop)
		}
	}
	return out
}

// thinLoop drops points of a closed loop so that each dropped one stays within
// tolerance of a chord that remains: the method of Douglas & Peucker, "Algorithms for
// the reduction of the number of points required to represent a digitized
// line", Cartographica 10 (1973) 112-122, on the two halves between the least
// point and the one farthest from it.
func thinLoop(loop []Vec2, tolerance float64) []Vec2 {
	if len(loop) < 3 {
		return nil
	}
	first := 0
	for i, p := range loop {
		if q := loop[first]; p.X < q.X || (p.X == q.X && p.Y < q.Y) {
			first = i
		}
	}
	ring := make([]Vec2, 0, len(loop)+1)
	ring = append(append(append(ring, loop[first:]...), loop[:first]...), loop[first])
	far, most := 0, 0.0
	for i, p := range ring {
		if d := p.Sub(ring[0]).Norm(); d > most {
			far, most = i, d
		}
	}
	out := thinLine(nil, ring[:far+1], tolerance)
	return thinLine(out, ring[far:], tolerance)
}

// thinLine appends the points of a line that must stay, the last one left out.
func thinLine(out, line []Vec2, tolerance float64) []Vec2 {
	if len(line) < 2 {
		return out
	}
	a, b := line[0], line[len(line)-1]
	far, most := 0, tolerance
	for i := 1; i < len(line)-1; i++ {
		if d := segmentDistance(line[i], a, b); d > most {
			far, most = i, d
		}
	}
	if far == 0 {
		return append(out, a)
	}
	return thinLine(thinLine(out, line[:far+1], tolerance), line[far:], tolerance)
}

// segmentDistance is the distance from p to the segment from a to b.
func segmentDistance(p, a, b Vec2) float64 {
	d := b.Sub(a)
	t := 0.0
	if n := d.Dot(d); n > 0 {
		t = min(1, max(0, p.Sub(a).Dot(d)/n))
	}
	return p.Sub(a.Add(d.Mul(t))).Norm()
}
