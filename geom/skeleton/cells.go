package skeleton

import (
	"cmp"
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/heap"
)

// cells are the cubes of an even grid that are in a solid with their middles.
type cells struct {
	side float64
	at   []geom.Vec // middles
	near [][]int32  // neighbours, also across edges and corners
}

type cellKey [3]int32

// mostSplits is how often the room is halved at most: cells a thousandth of it.
const mostSplits = 11

// cut cuts a solid into cells, by halving the room as long as its surface may be
// near.
func cut(ctx context.Context, s geom.Solid, side float64) (*cells, error) {
	box := s.BoundingBox()
	size := box.Size()
	splits := 0
	for ; side*float64(int(1)<<splits) < max(size.X, max(size.Y, size.Z)); splits++ {
		if splits == mostSplits || ctx.Err() != nil {
			return nil, cmp.Or(ctx.Err(), fmt.Errorf("skeleton: cells of %.3g mm are too fine for a solid of %.4g x %.4g x %.4g mm", side, size.X, size.Y, size.Z))
		}
	}
	c := &cells{side: side}
	var keys []cellKey
	known := map[cellKey]int32{}
	var split func(part geom.Solid, low cellKey, level int)
	split = func(part geom.Solid, low cellKey, level int) {
		width := side * float64(int(1)<<level)
		from := box.Min.Add(geom.Vec{X: float64(low[0]), Y: float64(low[1]), Z: float64(low[2])}.Mul(side))
		cube := geom.Box{Min: from, Max: from.Add(geom.Vec{X: width, Y: width, Z: width})}
		v := part.Evaluate(cube.Centre())
		switch {
		case v >= cube.HalfDiagonal() || ctx.Err() != nil:
		case level == 0:
			if v < 0 {
				known[low] = int32(len(keys))
				keys, c.at = append(keys, low), append(c.at, cube.Centre())
			}
		default:
			part = geom.PruneByValue(part, cube)
			half := int32(1) << (level - 1)
			for k := range int32(8) {
				split(part, cellKey{low[0] + half*(k&1), low[1] + half*(k>>1&1), low[2] + half*(k>>2)}, level-1)
			}
		}
	}
	split(s, cellKey{}, splits)
	c.near = make([][]int32, len(keys))
	for n, key := range keys {
		for d := range int32(27) {
			other := cellKey{key[0] + d%3 - 1, key[1] + d/3%3 - 1, key[2] + d/9 - 1}
			if m, there := known[other]; there && d != 13 {
				c.near[n] = append(c.near[n], m)
			}
		}
	}
	return c, ctx.Err()
}

// far are the distances of all cells from one of them along the solid, and the
// cell that is farthest. Cells that do not hang together with it are at +Inf.
func (c *cells) far(from int32) (distance []float64, farthest int32) {
	distance = make([]float64, len(c.at))
	for i := range distance {
		distance[i] = math.Inf(1)
	}
	distance[from] = 0
	var q heap.Heap[reached]
	q.Push(reached{0, from})
	for q.Len() > 0 {
		r := q.Pop()
		if r.far > distance[r.cell] {
			continue
		}
		farthest = r.cell
		for _, n := range c.near[r.cell] {
			if d := r.far + c.at[n].Dist(c.at[r.cell]); d < distance[n] {
				distance[n] = d
				q.Push(reached{d, n})
			}
		}
	}
	return distance, farthest
}

// reached is a cell and how far it is.
type reached struct {
	far  float64
	cell int32
}

func (r reached) Before(s reached) bool {
	return r.far < s.far || r.far == s.far && r.cell < s.cell
}
