package column

import (
	"math"

	"halfpour/geom/heap"
)

// filling is liquid on its way through the cells, event by event.
type filling struct {
	*airCells
	started []int32 // of each cell, the event at which liquid came to it; -1 never
	full    []int32 // and at which it was full; -1 never
	pool    []int32 // the pool that it belongs to
	feeder  []int32 // the cell that liquid came from; -1 the source
	sealed  []bool  // its air was cut off: nothing comes in any more
	pools   []fillPool
	events  int32

	// seals are the cells to be sealed when a cell is full, from earlier runs.
	seals map[int32][]int32
}

// fillPool is liquid with one level. A pool ends when it reaches the sill to
// its parent, and is that from then on.
type fillPool struct {
	parent int32
	ends   int32 // event; -1 while it has not
	log    []fillMark
}

// fillMark is a pool's level after an event.
type fillMark struct {
	event int32
	level float64
}

// fillEvent is what happens to a cell when the level comes to a height.
type fillEvent struct {
	height float64
	cell   int32
	from   int32 // the cell that liquid comes from
	full   bool  // the cell is full; else liquid comes to it
}

// Before puts the lowest event first, at one height those that let liquid in.
func (a fillEvent) Before(b fillEvent) bool {
	switch {
	case a.height != b.height:
		return a.height < b.height
	case a.full != b.full:
		return b.full
	}
	return a.cell < b.cell
}

// fill runs from the source until nothing more is reached.
func (a *airCells) fill(source int32, seals map[int32][]int32) *filling {
	n := len(a.list)
	f := &filling{airCells: a, started: absent(n), full: absent(n), pool: absent(n), feeder: absent(n),
		sealed: make([]bool, n), seals: seals}
	f.pour(f.bottom(source), -1, -1, math.Inf(1))
	return f
}

func absent(n int) []int32 {
	s := make([]int32, n)
	for i := range s {
		s[i] = -1
	}
	return s
}

// bottom is where liquid that comes to a cell falls to: always on to the
// lowest cell beside, as long as that is lower.
func (f *filling) bottom(id int32) int32 {
	for {
		best := id
		for _, n := range f.next(id) {
			if f.started[n] < 0 && !f.sealed[n] && f.list[n].lo < f.list[best].lo {
				best = n
			}
		}
		if best == id {
			return id
		}
		id = best
	}
}

// pour fills up from a bottom cell, as a pool of its own, to a limit. It
// returns what is to happen beyond.
func (f *filling) pour(bottom, feeder, parent int32, limit float64) heap.Heap[fillEvent] {
	me := int32(len(f.pools))
	f.pools = append(f.pools, fillPool{parent: parent, ends: -1})
	level := f.list[bottom].lo
	var queue heap.Heap[fillEvent]
	queue.Push(fillEvent{level, bottom, feeder, false})
	for queue.Len() > 0 && queue.First().height < limit {
		e := queue.Pop()
		if f.sealed[e.cell] || e.from >= 0 && f.sealed[e.from] || !e.full && f.started[e.cell] >= 0 {
			continue
		}
		level = max(level, e.height)
		switch {
		case e.full:
			f.fullUp(e.cell, me, level)
		case f.list[e.cell].lo < level-leastPourPortion:
			rest := f.pour(f.bottom(e.cell), e.from, me, level)
			for _, r := range rest.Items() {
				queue.Push(r)
			}
			f.mark(me, level)
		default:
			f.start(e, me, level, &queue)
		}
	}
	f.pools[me].ends = f.events
	return queue
}

// mark notes a pool's level and returns the number of the event.
func (f *filling) mark(pool int32, level float64) int32 {
	f.events++
	p := &f.pools[pool]
	p.log = append(p.log, fillMark{f.events, level})
	return f.events
}

// start lets liquid into a cell; from there it goes on beside when the level
// comes to the bottom of what is there.
func (f *filling) start(e fillEvent, pool int32, level float64, queue *heap.Heap[fillEvent]) {
	f.started[e.cell] = f.mark(pool, level)
	f.pool[e.cell], f.feeder[e.cell] = pool, e.from
	queue.Push(fillEvent{f.list[e.cell].hi, e.cell, -1, true})
	for _, n := range f.next(e.cell) {
		if f.started[n] < 0 && !f.sealed[n] {
			queue.Push(fillEvent{max(level, f.list[n].lo), n, e.cell, false})
		}
	}
}

func (f *filling) fullUp(cell, pool int32, level float64) {
	f.full[cell] = f.mark(pool, level)
	for _, s := range f.seals[cell] {
		f.sealed[s] = true
	}
}

// floor is how high liquid stands in a cell after an event, or the cell's own
// bottom while it is dry.
func (f *filling) floor(id, event int32) float64 {
	if f.started[id] < 0 || f.started[id] > event {
		return f.list[id].lo
	}
	k := f.pool[id]
	for f.pools[k].ends >= 0 && f.pools[k].ends < event && f.pools[k].parent >= 0 {
		k = f.pools[k].parent
	}
	level := f.list[id].lo
	log := f.pools[k].log
	lo, hi := 0, len(log) // the last mark not after the event is before hi
	for lo < hi {
		if mid := (lo + hi) / 2; log[mid].event <= event {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo > 0 {
		level = max(level, log[lo-1].level)
	}
	return min(level, f.list[id].hi)
}
