package moldbox

import (
	"math"
	"slices"

	"halfpour/geom"
)

// routeStep is the grid on which a way round obstacles is looked for, mm.
const routeStep = 0.5

// routeMoves are how far a way may go to a side for each step upwards: at most
// as much as leastRise allows.
var routeMoves = [...]int{0, -1, 1, -2, 2}

// turnCost is the length that a way may be longer to save a bend of one move,
// mm.
const turnCost = 0.6

// around looks for a way from a point of the head up to the top edge, or to a
// vent of the same cavity that is on the way, round all that is in between:
// the shortest of those that always rise, with as few bends as that allows.
func (v *venting) around(from geom.Vec, own []vent) (way []geom.Vec, ok bool) {
	r := &routing{venting: v, from: from, own: own, gap: leastRubber + v.spec.Width/2}
	margin := v.corner + v.spec.Width
	r.least = int(math.Ceil((v.inside.Min.X + margin - from.X) / routeStep))
	r.most = int(math.Floor((v.inside.Max.X - margin - from.X) / routeStep))
	if r.least > 0 || r.most < 0 {
		return nil, false
	}
	rows := int(math.Ceil((v.inside.Max.Y - from.Y) / routeStep))
	front := routeRow{{0, 0}: {}}
	r.rows = []routeRow{front}
	for row := 1; row <= rows && len(front) > 0 && r.ctx.Err() == nil; row++ {
		front = r.climb(front, row)
		r.rows = append(r.rows, front)
		if at, ok := r.best(front, row, rows); ok {
			return r.straighten(r.back(row, at))
		}
	}
	return nil, false
}

// routing is one search, row by row upwards. Every move goes one row up, so
// that the shortest way to each place is known when its row is reached.
type routing struct {
	*venting
	from        geom.Vec
	own         []vent
	gap         float64
	least, most int // columns
	rows        []routeRow
}

// routePlace is a column and the move by which it is come to.
type routePlace struct{ column, move int }

type routeStepTo struct {
	cost float64
	from routePlace
}

type routeRow map[routePlace]routeStepTo

func (r *routing) point(column, row int) geom.Vec {
	return r.from.Add(geom.Vec{X: float64(column) * routeStep, Y: float64(row) * routeStep})
}

// climb returns the row above.
func (r *routing) climb(front routeRow, row int) routeRow {
	free := map[int]bool{}
	up := routeRow{}
	for column := r.least; column <= r.most; column++ {
		for _, last := range routeMoves {
			here := routePlace{column, last}
			at, ok := front[here]
			if !ok {
				continue
			}
			for _, move := range routeMoves {
				to := column + move
				if to < r.least || to > r.most {
					continue
				}
				if _, known := free[to]; !known {
					free[to] = r.free(r.point(to, row))
				}
				if !free[to] {
					continue
				}
				cost := at.cost + routeStep*math.Hypot(1, float64(move)) + turnCost*math.Abs(float64(move-last))
				there := routePlace{to, move}
				if known, ok := up[there]; !ok || cost < known.cost {
					up[there] = routeStepTo{cost, here}
				}
			}
		}
	}
	return up
}

// free reports whether a place keeps clear of all else and leaves the own head
// steadily.
func (r *routing) free(p geom.Vec) bool {
	if r.others.distance(p) < r.gap {
		return false
	}
	return r.head.Evaluate(p) >= math.Min(r.gap, 0.4*p.Dist(r.from))-0.05
}

// best returns the cheapest place of a row that ends a way: any on the top
// row, and one within a vent of the same cavity.
func (r *routing) best(front routeRow, row, rows int) (routePlace, bool) {
	var best routePlace
	least := math.Inf(1)
	for column := r.least; column <= r.most; column++ {
		for _, move := range routeMoves {
			at := routePlace{column, move}
			step, ok := front[at]
			if !ok || step.cost >= least || row < rows && !r.joins(r.point(column, row)) {
				continue
			}
			best, least = at, step.cost
		}
	}
	return best, !math.IsInf(least, 1)
}

// joins reports whether a place is on the middle of a vent already there.
func (r *routing) joins(p geom.Vec) bool {
	deep := -0.2 * math.Min(r.spec.Width, r.spec.Depth)
	return slices.ContainsFunc(r.own, func(o vent) bool { return o.solid.Evaluate(p) < deep })
}

// back follows a way down to its start and returns it from there.
func (r *routing) back(row int, at routePlace) []geom.Vec {
	way := make([]geom.Vec, row+1)
	for ; row > 0; row-- {
		way[row] = r.point(at.column, row)
		at = r.rows[row][at].from
	}
	way[0] = r.from
	return way
}

// straighten takes out the points of a way between which it may run straight,
// and takes it on through the wall when it ends at the top edge.
func (r *routing) straighten(way []geom.Vec) ([]geom.Vec, bool) {
	last := len(way) - 1
	if way[last].Y >= r.inside.Max.Y {
		way[last].Y = r.end
		if last > 0 && way[last].X != way[last-1].X { // upright through the wall
			way = append(way[:last], geom.Vec{X: way[last].X, Y: r.inside.Max.Y}, way[last])
		}
	}
	out := way[:1:1]
	for i := 0; i < len(way)-1; {
		next := i + 1
		for k := len(way) - 1; k > i+1; k-- {
			if rises(way[i], way[k]) && r.clear(out, way[k]) {
				next = k
				break
			}
		}
		out = append(out, way[next])
		i = next
	}
	if n := len(out) - 1; out[n].Y < r.inside.Max.Y && n > 0 { // run on into the vent that it joins
		out[n] = out[n].Add(out[n].Sub(out[n-1]).Unit().Mul(r.spec.Width / 2))
	}
	return r.open(out...)
}

func rises(a, b geom.Vec) bool { return b.Y-a.Y >= leastRise*math.Abs(b.X-a.X) }

func (r *routing) clear(way []geom.Vec, next geom.Vec) bool {
	_, ok := r.open(append(way[:len(way):len(way)], next)...)
	return ok
}
