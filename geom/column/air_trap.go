package column

import (
	"context"
	"math"
	"slices"

	"halfpour/geom/unionfind"
)

// mostRefills bounds how often the filling is begun anew with air that blocks
// a way.
const mostRefills = 64

// trapped fills the hollow and returns the air that is cut off. Air that
// liquid was taken to flow through afterwards is sealed, and the filling begun
// anew, until nothing flows through any.
func (a *airCells) trapped(ctx context.Context, source int32, least float64) ([]trap, error) {
	seals := map[int32][]int32{}
	for range mostRefills {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		f := a.fill(source, seals)
		traps := f.traps(least / 2)
		when, ok := f.firstBlocked(traps)
		if !ok {
			return traps, nil
		}
		for _, t := range traps {
			if t.closer >= 0 && t.when <= when {
				seals[t.closer] = append(seals[t.closer], t.cells...)
			}
		}
	}
	return a.fill(source, seals).traps(least / 2), nil
}

// firstBlocked returns when the first air was cut off that liquid then flowed
// through, if any was.
func (f *filling) firstBlocked(traps []trap) (int32, bool) {
	in := absent(len(f.list))
	for k, t := range traps {
		for _, id := range t.cells {
			in[id] = int32(k)
		}
	}
	first, any := int32(math.MaxInt32), false
	for id := range f.list {
		from := f.feeder[id]
		if from < 0 || in[from] < 0 || in[from] == in[id] {
			continue
		}
		if t := &traps[in[from]]; t.closer >= 0 && f.started[id] > t.when {
			first, any = min(first, t.when), true
		}
	}
	return first, any
}

// traps goes back in time, cell by cell as each was full last: then it joins
// the air beside it. Air without an open place that so comes to join air with
// one was cut off in that moment. This is the merge tree of the cells by the
// time at which they are full.
func (f *filling) traps(least float64) []trap {
	g := airGroups{filling: f, Sets: unionfind.New(len(f.list)), next: absent(len(f.list)), last: absent(len(f.list)),
		open: make([]bool, len(f.list))}
	var out []trap
	keep := func(root, closer, when int32) {
		t := trap{cells: g.cells(root), closer: closer, when: when}
		t.floors = make([]float64, len(t.cells))
		area := f.columns.Step * f.columns.Step
		for k, id := range t.cells {
			t.floors[k] = f.floor(id, when)
			t.volume += (f.list[id].hi - t.floors[k]) * area
		}
		if t.volume >= least {
			out = append(out, t)
		}
	}
	order := f.lastFirst()
	for _, id := range order {
		g.join(id, keep)
	}
	for id := range f.list {
		if g.Root(int32(id)) == int32(id) && !g.open[id] {
			keep(int32(id), -1, 0)
		}
	}
	return out
}

// lastFirst orders the cells from those that are never full to the one that is
// full first.
func (f *filling) lastFirst() []int32 {
	at := absent(int(f.events) + 1)
	order := make([]int32, 0, len(f.list))
	for id, e := range f.full {
		if e < 0 {
			order = append(order, int32(id))
		} else {
			at[e] = int32(id)
		}
	}
	for _, id := range slices.Backward(at) {
		if id >= 0 {
			order = append(order, id)
		}
	}
	return order
}

// airGroups are cells that hang together, each group with a list of its cells.
type airGroups struct {
	*filling
	unionfind.Sets
	next, last []int32 // of each cell the next in its group; of each root the last, -1 before it is there
	open       []bool  // of roots
}

// join adds a cell and joins what it touches. Closed groups that so come to an
// open one are kept as traps.
func (g *airGroups) join(id int32, keep func(root, closer, when int32)) {
	g.last[id], g.open[id] = id, g.list[id].open
	near := g.airCells.next(id)
	open := g.open[id]
	for _, n := range near {
		open = open || g.last[n] >= 0 && g.open[g.Root(n)]
	}
	for _, n := range near {
		me, other := g.Root(id), g.Root(n)
		if g.last[n] < 0 || other == me {
			continue
		}
		if open && !g.open[other] && g.full[id] >= 0 {
			keep(other, id, g.full[id])
			g.open[other] = true
		}
		g.Join(me, other)
		low, high := min(me, other), max(me, other)
		g.next[g.last[low]], g.last[low] = high, g.last[high]
	}
	g.open[g.Root(id)] = open
}

func (g *airGroups) cells(root int32) []int32 {
	var s []int32
	for id := root; id >= 0; id = g.next[id] {
		s = append(s, id)
	}
	slices.Sort(s)
	return s
}
