package box

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/moldbox"
)

// heights are what stands over a frame's floor, line by line from the middle of
// the room: below 0 where the floor has a hollow.
type heights struct {
	grid   *column.Grid
	centre geom.Vec
	floor  float64
}

func heightsOf(ctx context.Context, f *Frame, s geom.Solid) (heights, error) {
	grid, err := column.Cut(ctx, s, column.Options{Step: step})
	return heights{grid, f.Inside.Centre(), f.Floor}, err
}

// at is the height at a place, measured from the room's middle.
func (h heights) at(x, y float64) float64 {
	o := h.grid.At(0, 0, 0)
	i, j := int(math.Round((h.centre.X+x-o.X)/h.grid.Step)), int(math.Round((h.centre.Y+y-o.Y)/h.grid.Step))
	line := h.grid.Line(i, j)
	if len(line) == 0 {
		return 0
	}
	return line[0].Hi - h.floor
}

// Misfit is where two halves of rubber would push each other apart.
type Misfit struct {
	Volume  float64  // of rubber in rubber, mm³
	Depth   float64  // the greatest, mm
	At      geom.Vec // there, on the left frame's floor
	Aside   geom.Vec // by how much the right room is longer and wider, mm
	Flipped bool     // the right frame turns over its short side on to the left
}

// mate lays the right frame's rubber on the left one's. Each half's rubber is as high
// over the parting plane as its frame's floor is low there. Rooms are laid middle on
// middle, turned over one way or the other, whichever fits better.
func mate(left, right *Frame, l, r heights) Misfit {
	var best Misfit
	for k, flip := range [2][2]float64{{-1, 1}, {1, -1}} {
		m := Misfit{Flipped: k == 1}
		size := left.Inside.Size()
		for x := -size.X / 2; x <= size.X/2; x += step {
			for y := -size.Y / 2; y <= size.Y/2; y += step {
				deep := -(l.at(x, y) + r.at(flip[0]*x, flip[1]*y))
				if deep <= 0 || l.near(x, y, deep) || r.near(flip[0]*x, flip[1]*y, deep) {
					continue
				}
				m.Volume += deep * step * step
				if deep > m.Depth {
					m.Depth, m.At = deep, geom.Vec{X: l.centre.X + x, Y: l.centre.Y + y, Z: left.Floor}
				}
			}
		}
		if k == 0 || m.Volume < best.Volume {
			best = m
		}
	}
	a, b := left.Inside.Size(), right.Inside.Size()
	best.Aside = geom.Vec{X: b.X - a.X, Y: b.Y - a.Y}
	return best
}

// near reports whether a line beside this place is higher by what is missing: rubber
// that is in the way by less than a step aside is in the way by what the lines
// cannot tell.
func (h heights) near(x, y, deep float64) bool {
	here := h.at(x, y)
	for _, d := range [8][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		if h.at(x+d[0]*step, y+d[1]*step) >= here+deep {
			return true
		}
	}
	return false
}

// tellMate adds what keeps two halves apart.
func (c *checker) tellMate(m Misfit) {
	const most, deep = 5, 0.3 // mm³ and mm: soft rubber gives way to less
	if d := m.Aside; math.Abs(d.X) > 0.5 || math.Abs(d.Y) > 0.5 {
		c.add(moldbox.Warn, SizesCode, nil, max(math.Abs(d.X), math.Abs(d.Y)), 0.5, "mm",
			fmt.Sprintf("its room is %+.1f mm in x and %+.1f mm in y from the left one's: the halves do not lie edge on edge", d.X, d.Y), "draw both rooms the same size")
	}
	if m.Volume > most && m.Depth > deep {
		c.add(moldbox.Stop, NotMateCode, nil, m.Depth, deep, "mm",
			fmt.Sprintf("the halves do not mate: laid on the left half, rubber sits %.1f mm deep in rubber, %.0f mm³ of it, near (%.1f, %.1f) mm on the left frame as it stands", m.Depth, m.Volume, m.At.X, m.At.Y),
			"give each hollow in one floor a bump of the same shape in the other, where they meet as the halves close")
	}
}
