package column

import (
	"halfpour/geom"
	"halfpour/geom/unionfind"
)

// Piece is a part of a solid whose stretches hang together.
type Piece struct {
	Volume    float64  // as its lines tell, mm³
	Middle    geom.Vec // of its longest stretch
	Low, High float64  // its least and greatest height
	lines     []int32
	parts     []Stretch
	grid      *Grid
}

// Each calls f with every stretch of the piece, from one end to the other, until f
// returns false.
func (p Piece) Each(f func(low, high geom.Vec) bool) {
	for k, line := range p.lines {
		i, j := int(line)%p.grid.NX, int(line)/p.grid.NX
		if s := p.parts[k]; !f(p.grid.At(i, j, s.Lo), p.grid.At(i, j, s.Hi)) {
			return
		}
	}
}

// Pieces returns the parts of the solid that do not hang together, in the order of
// their first lines: stretches of neighbouring lines, also across a corner, that
// overlap are of one piece. A neck thinner than Step may be missed, so that what
// hangs by it counts as a piece of its own.
func (c *Grid) Pieces() []Piece {
	sets := unionfind.New(len(c.all))
	for j := range c.NY {
		for i := range c.NX {
			for _, d := range [4][2]int{{-1, 0}, {-1, -1}, {0, -1}, {1, -1}} { // seen before
				if i+d[0] >= 0 && i+d[0] < c.NX && j+d[1] >= 0 {
					c.joinLines(sets, j*c.NX+i, (j+d[1])*c.NX+i+d[0])
				}
			}
		}
	}
	number := map[int32]int{}
	var pieces []Piece
	for line := range c.NX * c.NY {
		for k := c.first[line]; k < c.first[line+1]; k++ {
			root := sets.Root(k)
			n, known := number[root]
			if !known {
				n = len(pieces)
				number[root] = n
				pieces = append(pieces, Piece{Low: c.all[k].Lo, High: c.all[k].Hi, grid: c})
			}
			pieces[n].add(int32(line), c.all[k])
		}
	}
	for n := range pieces {
		pieces[n].setMiddle()
	}
	return pieces
}

// joinLines joins the stretches of two lines that overlap.
func (c *Grid) joinLines(sets unionfind.Sets, a, b int) {
	k, l := c.first[a], c.first[b]
	for k < c.first[a+1] && l < c.first[b+1] {
		s, t := c.all[k], c.all[l]
		if s.Lo < t.Hi && t.Lo < s.Hi {
			sets.Join(k, l)
		}
		if s.Hi < t.Hi {
			k++
		} else {
			l++
		}
	}
}

func (p *Piece) add(line int32, s Stretch) {
	p.lines, p.parts = append(p.lines, line), append(p.parts, s)
	p.Volume += (s.Hi - s.Lo) * p.grid.Step * p.grid.Step
	p.Low, p.High = min(p.Low, s.Lo), max(p.High, s.Hi)
}

func (p *Piece) setMiddle() {
	longest := 0
	for k, s := range p.parts {
		if s.Hi-s.Lo > p.parts[longest].Hi-p.parts[longest].Lo {
			longest = k
		}
	}
	line, s := int(p.lines[longest]), p.parts[longest]
	p.Middle = p.grid.At(line%p.grid.NX, line/p.grid.NX, (s.Lo+s.Hi)/2)
}
