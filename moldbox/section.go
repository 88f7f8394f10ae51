package moldbox

import (
	"context"
	"math"
	"slices"
	"sort"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/geom/unionfind"
)

// span is a stretch of a column that is inside a solid: lo to hi in y.
type span struct{ lo, hi float64 }

// section is the cut of a solid by the parting plane, as columns along y at
// even steps in x.
type section struct {
	x0, step float64
	columns  [][]span // from the lowest span up
}

func (s section) x(i int) float64 { return s.x0 + float64(i)*s.step }

// index is that of the column nearest to x, which may be beyond the ends.
func (s section) index(x float64) int { return int(math.Round((x - s.x0) / s.step)) }

// column returns the spans of the column nearest to x, nil beyond the ends.
func (s section) column(x float64) []span {
	i := s.index(x)
	if i < 0 || i >= len(s.columns) {
		return nil
	}
	return s.columns[i]
}

// top returns the highest y of the column nearest to x.
func (s section) top(x float64) (float64, bool) {
	c := s.column(x)
	if len(c) == 0 {
		return 0, false
	}
	return c[len(c)-1].hi, true
}

// empty reports whether the plane misses the solid.
func (s section) empty() bool {
	return !slices.ContainsFunc(s.columns, func(c []span) bool { return len(c) > 0 })
}

// traceSection cuts the solid in columns about 0.1 mm apart, at most 240 of
// them, within its box (as from reach); what is too thin to print is no part of it.
// Where ctx ends it is empty.
func traceSection(ctx context.Context, solid geom.Solid, box geom.Box) section {
	width := box.Max.X - box.Min.X
	n := int(math.Min(240, math.Ceil(width/0.1))) + 1
	s := section{x0: box.Min.X, step: math.Max(width, 1e-9) / float64(n), columns: make([][]span, n+1)}
	row, err := column.Row(ctx, solid, s.x0, s.step, len(s.columns))
	if err != nil {
		return s
	}
	for i := range s.columns {
		for _, l := range row.Line(i, 0) {
			if l.Hi-l.Lo >= thinnestSpan {
				s.columns[i] = append(s.columns[i], span{l.Lo, l.Hi})
			}
		}
	}
	return s
}

// thinnestSpan is the least span of a section, mm: a needle of the head's surface is no
// place for a gate.
const thinnestSpan = 0.03

// scaled returns the section of the solid scaled by k about the origin.
func (s section) scaled(k float64) section {
	out := section{x0: k * s.x0, step: k * s.step, columns: make([][]span, len(s.columns))}
	for i, c := range s.columns {
		for _, sp := range c {
			out.columns[i] = append(out.columns[i], span{k * sp.lo, k * sp.hi})
		}
	}
	return out
}

// peak is a place of a section from which air cannot rise further.
type peak struct {
	at         geom.Vec
	prominence float64 // how far one must go down to get higher; +Inf for the highest
}

// peaks returns the high points of the section whose prominence is above
// least, the highest first: the merge tree of its spans by height. Spans of
// neighbouring columns that overlap hang together.
func (s section) peaks(least float64) []peak {
	nodes := s.nodes()
	order := make([]int, len(nodes))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return nodes[order[i]].hi > nodes[order[j]].hi })
	sets := unionfind.New(len(nodes))
	top := make([]int, len(nodes)) // of each set its highest node, by root; -1 while under water
	for i := range top {
		top[i] = -1
	}
	fall := make([]float64, len(nodes)) // prominence of the peak at a node
	for _, i := range order {
		top[i], fall[i] = i, math.Inf(1)
		for _, j := range nodes[i].near {
			if top[j] < 0 {
				continue
			}
			a, b := top[sets.Root(int32(i))], top[sets.Root(int32(j))]
			if a == b {
				continue
			}
			if nodes[a].hi < nodes[b].hi || (nodes[a].hi == nodes[b].hi && a == i) {
				a, b = b, a // a is the higher peak and lives on
			}
			fall[b] = nodes[b].hi - nodes[i].hi
			sets.Join(int32(i), int32(j))
			top[sets.Root(int32(i))] = a
		}
	}
	var out []peak
	for _, i := range order {
		if fall[i] > least {
			out = append(out, peak{geom.Vec{X: s.plateau(nodes, i), Y: nodes[i].hi}, fall[i]})
		}
	}
	return out
}

// joined reports whether the outline's tops from a to b stay above level: both
// are in one pocket of air.
func (s section) joined(a, b geom.Vec, level float64) bool {
	i, j := s.index(a.X), s.index(b.X)
	for k := min(i, j); k <= max(i, j); k++ {
		if top, ok := s.top(s.x(k)); !ok || top < level {
			return false
		}
	}
	return true
}

// node is one span in the merge tree.
type node struct {
	column int
	span
	near []int
}

func (s section) nodes() []node {
	var nodes []node
	before, start := 0, 0 // nodes of the column before: before..start
	for i, c := range s.columns {
		before, start = start, len(nodes)
		for _, sp := range c {
			k := len(nodes)
			n := node{column: i, span: sp}
			for j := before; j < start; j++ {
				if nodes[j].lo < sp.hi && sp.lo < nodes[j].hi {
					n.near = append(n.near, j)
					nodes[j].near = append(nodes[j].near, k)
				}
			}
			nodes = append(nodes, n)
		}
	}
	return nodes
}

// plateau returns the middle of the run of spans as high as node i.
func (s section) plateau(nodes []node, i int) float64 {
	const level = 0.005
	lo, hi := nodes[i].column, nodes[i].column
	seen := map[int]bool{i: true}
	todo := []int{i}
	for len(todo) > 0 {
		k := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, j := range nodes[k].near {
			if !seen[j] && nodes[j].hi > nodes[i].hi-level {
				seen[j] = true
				todo = append(todo, j)
				lo, hi = min(lo, nodes[j].column), max(hi, nodes[j].column)
			}
		}
	}
	return (s.x(lo) + s.x(hi)) / 2
}
