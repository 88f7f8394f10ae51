package skeleton

import (
	"math"
	"slices"

	"halfpour/geom"
)

// Shape is a wire-like skeleton sorted out.
type Shape struct {
	Ring     []int    // nodes of its ring, in no order; none without one
	Path     []int    // from the ring, or one end, to the end that is farthest along it
	Branches [][]int  // what branches off the path, each from the path on; the longest first
	Tip      geom.Vec // the very end of the path
	Start    geom.Vec // without a ring, its very beginning
}

// Shape sorts a skeleton out. Rings of fewer than leastRing nodes, which the cells
// make where a wire is rough, are none; of several the longest is the ring.
func (s *Skeleton) Shape() Shape {
	var sh Shape
	sh.Ring = s.ring()
	if len(sh.Ring) > 0 {
		from := s.distances(sh.Ring)
		end := s.farthest(from, nil)
		sh.Path, sh.Tip = s.way(from, end), s.Nodes[end].tip
	} else {
		any := s.distances([]int{0})
		first := s.farthest(any, nil)
		from := s.distances([]int{first})
		end := s.farthest(from, nil)
		sh.Path, sh.Start, sh.Tip = s.way(from, end), s.Nodes[first].tip, s.Nodes[end].tip
	}
	sh.Branches = s.branches(sh)
	return sh
}

// leastRing is how many nodes a ring has at least: one about its own thickness
// has more.
const leastRing = 6

// leastBranch is how many nodes a branch has at least: fewer are the cells'
// roughness.
const leastBranch = 2

// ring returns the nodes that lie on closed ways: of the parts that no single
// link cuts apart, the largest.
func (s *Skeleton) ring() []int {
	n := len(s.Nodes)
	order, low := make([]int, n), make([]int, n)
	type frame struct{ node, from, next int }
	count, best := 0, []int(nil)
	var open []int // nodes whose part is not settled
	for root := range n {
		if order[root] != 0 {
			continue
		}
		stack := []frame{{root, -1, 0}}
		count++
		order[root], low[root] = count, count
		open = append(open, root)
		for len(stack) > 0 {
			f := &stack[len(stack)-1]
			if f.next < len(s.Nodes[f.node].Links) {
				to := s.Nodes[f.node].Links[f.next]
				f.next++
				switch {
				case to == f.from:
				case order[to] != 0:
					low[f.node] = min(low[f.node], order[to])
				default:
					count++
					order[to], low[to] = count, count
					open = append(open, to)
					stack = append(stack, frame{to, f.node, 0})
				}
				continue
			}
			node, from := f.node, f.from
			stack = stack[:len(stack)-1]
			if from >= 0 {
				low[from] = min(low[from], low[node])
			}
			if low[node] != order[node] {
				continue
			}
			var found []int // all since node hang together twice over
			for {
				last := open[len(open)-1]
				open = open[:len(open)-1]
				found = append(found, last)
				if last == node {
					break
				}
			}
			if len(found) >= leastRing && len(found) > len(best) {
				best = found
			}
		}
	}
	return best
}

// distances are along the links from the nearest of some nodes; +Inf where no
// way leads.
func (s *Skeleton) distances(from []int) []float64 {
	far := make([]float64, len(s.Nodes))
	for i := range far {
		far[i] = math.Inf(1)
	}
	queue := []int{}
	for _, n := range from {
		far[n] = 0
		queue = append(queue, n)
	}
	for len(queue) > 0 { // relaxed until nothing is nearer: few nodes have more than two links
		n := queue[0]
		queue = queue[1:]
		for _, m := range s.Nodes[n].Links {
			if d := far[n] + s.Nodes[n].At.Dist(s.Nodes[m].At); d < far[m]-1e-12 {
				far[m] = d
				queue = append(queue, m)
			}
		}
	}
	return far
}

// farthest is the node at the greatest finite distance, of those allowed.
func (s *Skeleton) farthest(far []float64, allowed func(int) bool) int {
	best := -1
	for i, d := range far {
		if !math.IsInf(d, 1) && (allowed == nil || allowed(i)) && (best < 0 || d > far[best]) {
			best = i
		}
	}
	return best
}

// way goes from where the distance is 0 to a node.
func (s *Skeleton) way(far []float64, to int) []int {
	back := []int{to}
	for far[to] > 0 {
		next := -1
		for _, m := range s.Nodes[to].Links {
			if far[m] < far[to] && (next < 0 || far[m]+s.Nodes[m].At.Dist(s.Nodes[to].At) < far[next]+s.Nodes[next].At.Dist(s.Nodes[to].At)) {
				next = m
			}
		}
		to = next
		back = append(back, to)
	}
	for i, j := 0, len(back)-1; i < j; i, j = i+1, j-1 {
		back[i], back[j] = back[j], back[i]
	}
	return back
}

// branches takes the longest way off what is known, again and again. What stands
// off the ring is where the cells' levels meet on its far side.
func (s *Skeleton) branches(sh Shape) (list [][]int) {
	known := append(append([]int{}, sh.Ring...), sh.Path...)
	for {
		far := s.distances(known)
		end := s.farthest(far, nil)
		if end < 0 || far[end] < leastBranch*s.Step {
			return list
		}
		way := s.way(far, end)
		if !slices.Contains(sh.Ring, way[0]) {
			list = append(list, way)
		}
		known = append(known, way...)
	}
}
