package skeleton

import (
	"context"
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/unionfind"
)

// Node is a short piece of a thin solid.
type Node struct {
	At     geom.Vec // its middle
	Volume float64  // mm³
	Links  []int    // the nodes that it touches, in order

	far float64 // from the first end, along the solid
	tip geom.Vec
}

// Skeleton is a thin solid as nodes along it.
type Skeleton struct {
	Nodes []Node
	Step  float64 // between nodes along the solid, about, mm
}

// layers is how many cells a node is long.
const layers = 3

// Of returns the skeleton of the largest part of a solid, cut into cells with a
// side of that many mm: a tenth of the thickness shows rings and branches well. A
// solid that cannot be cut, or without cells, is an error.
func Of(ctx context.Context, s geom.Solid, side float64) (*Skeleton, error) {
	c, err := cut(ctx, s, side)
	if err != nil {
		return nil, err
	}
	if len(c.at) == 0 {
		return nil, fmt.Errorf("skeleton: the solid is thinner than %.3g mm everywhere", side)
	}
	// From one end to the other: what is farthest from anywhere is an end.
	_, end := c.far(c.largest())
	far, _ := c.far(end)
	level := make([]int, len(c.at))
	for i, d := range far {
		level[i] = -1
		if !math.IsInf(d, 1) {
			level[i] = int(d / (layers * side))
		}
	}
	return c.joined(level, far), ctx.Err()
}

// largest is a cell of the part with the most cells.
func (c *cells) largest() int32 {
	sets := unionfind.New(len(c.at))
	for i, near := range c.near {
		for _, j := range near {
			sets.Join(int32(i), j)
		}
	}
	count, best := make([]int, len(c.at)), int32(0)
	for i := range c.at {
		root := sets.Root(int32(i))
		if count[root]++; count[root] > count[best] {
			best = root
		}
	}
	return best
}

// joined makes a node of all cells of a level that hang together.
func (c *cells) joined(level []int, far []float64) *Skeleton {
	sets := unionfind.New(len(c.at))
	for i, near := range c.near {
		for _, j := range near {
			if level[i] == level[j] {
				sets.Join(int32(i), j)
			}
		}
	}
	s := &Skeleton{Step: layers * c.side}
	node := make([]int, len(c.at)) // of each root, 1 + its node
	of := func(i int) int { return node[sets.Root(int32(i))] - 1 }
	most := []float64{} // of each node, the distance of its tip
	for i := range c.at {
		if level[i] < 0 {
			continue
		}
		root := sets.Root(int32(i))
		if node[root] == 0 {
			s.Nodes, most = append(s.Nodes, Node{}), append(most, -1)
			node[root] = len(s.Nodes)
		}
		n := &s.Nodes[node[root]-1]
		n.At = n.At.Add(c.at[i])
		n.far += far[i]
		n.Volume++
		if level[i] == 0 {
			if far[i] == 0 {
				n.tip = c.at[i]
			}
		} else if far[i] > most[node[root]-1] {
			most[node[root]-1], n.tip = far[i], c.at[i]
		}
	}
	for k := range s.Nodes {
		n := &s.Nodes[k]
		n.At, n.far = n.At.Mul(1/n.Volume), n.far/n.Volume
		n.Volume *= c.side * c.side * c.side
	}
	for i, near := range c.near {
		if level[i] < 0 {
			continue
		}
		for _, j := range near {
			if a, b := of(i), of(int(j)); a != b && !slices.Contains(s.Nodes[a].Links, b) {
				s.Nodes[a].Links = append(s.Nodes[a].Links, b)
			}
		}
	}
	for k := range s.Nodes {
		slices.Sort(s.Nodes[k].Links)
	}
	return s
}
