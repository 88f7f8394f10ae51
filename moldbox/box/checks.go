package box

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/moldbox"
)

// Codes of findings on frames that somebody else has drawn.
const (
	NoRoomCode  = "box-no-room"
	LeaksCode   = "box-leaks"
	BodiesCode  = "box-bodies"
	FillCode    = "box-fill"
	StandsCode  = "box-stands-out"
	RimCode     = "box-rim-uneven"
	ThinCode    = "box-rubber-thin"
	BehindCode  = "box-undercut"
	NotMateCode = "box-not-mating"
	SizesCode   = "box-sizes-differ"
)

// step is between the lines along which frames are looked at, mm.
const step = 0.5

// checker collects findings on one half.
type checker struct {
	half string                  // "left" or "right"
	up   func(geom.Vec) geom.Vec // from the frame as it stands to its file's coordinates
	list []moldbox.Finding
}

func (c *checker) add(severity moldbox.Severity, code string, at *geom.Vec, value, limit float64, unit, message, remedy string) {
	if at != nil {
		p := c.up(*at)
		message += fmt.Sprintf(", near (%.1f, %.1f, %.1f) mm in its file", p.X, p.Y, p.Z)
	}
	c.list = append(c.list, moldbox.Finding{Severity: severity, Code: code, Message: c.half + " frame: " + message, Remedy: remedy, Value: value, Limit: limit, Unit: unit})
}

// bodies refuses a mesh of several bodies: what they hold cannot be told from their
// facets where one is inside another.
func (c *checker) bodies(ctx context.Context, m *geom.TriMesh) error {
	if t := geom.TopologyOf(m); t.Shells > 1 {
		c.add(moldbox.Stop, BodiesCode, &t.ShellAt, float64(t.Shells), 1, "", fmt.Sprintf("it has %d bodies, so halfpour cannot tell what it holds", t.Shells),
			"join them into one body in your CAD program, and export it again")
		return nil
	}
	crossings, err := geom.SelfCrossings(ctx, m, 1)
	if err == nil && len(crossings) > 0 {
		at := crossings[0].At
		c.add(moldbox.Stop, BodiesCode, &at, 0, 0, "", "its surface cuts through itself, so halfpour cannot tell what it holds",
			"join the bodies in your CAD program, and export the frame again")
	}
	return err
}

// noRoom says why a mesh holds nothing.
func (c *checker) noRoom(ctx context.Context, m *geom.TriMesh, s geom.Solid) error {
	at, wide, err := through(ctx, m, s)
	if err != nil {
		return err
	}
	if wide > 0 {
		c.add(moldbox.Stop, LeaksCode, &at, 0, 0, "", fmt.Sprintf("rubber runs out through a hole of about %.2g mm² in the floor", wide), "close the hole in your CAD program, or tape over it and close it in the drawing")
		return nil
	}
	c.add(moldbox.Stop, NoRoomCode, nil, 0, 0, "", "it holds nothing", "draw a box that is open at the top, with a floor and walls all round")
	return nil
}

// through finds the largest hole that goes right through a frame, seen from above,
// with material on all sides: its middle and its area, mm².
func through(ctx context.Context, m *geom.TriMesh, s geom.Solid) (geom.Vec, float64, error) {
	grid, err := column.Cut(ctx, s, column.Options{Step: step})
	if err != nil {
		return geom.Vec{}, 0, err
	}
	seen := make([]bool, grid.NX*grid.NY)
	var best geom.Vec
	most := 0
	for first := range seen {
		if seen[first] || len(grid.Line(first%grid.NX, first/grid.NX)) > 0 {
			continue
		}
		list, edge := []int{first}, false
		seen[first] = true
		for k := 0; k < len(list); k++ {
			i, j := list[k]%grid.NX, list[k]/grid.NX
			for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				x, y := i+d[0], j+d[1]
				if x < 0 || y < 0 || x >= grid.NX || y >= grid.NY {
					edge = true
					continue
				}
				if n := y*grid.NX + x; !seen[n] && len(grid.Line(x, y)) == 0 {
					seen[n] = true
					list = append(list, n)
				}
			}
		}
		if !edge && len(list) > most {
			most, best = len(list), geom.Vec{}
			for _, n := range list {
				best = best.Add(grid.At(n%grid.NX, n/grid.NX, 0).Mul(1 / float64(len(list))))
			}
		}
	}
	best.Z = m.BoundingBox().Min.Z
	return best, float64(most) * step * step, nil
}

// lowRim is the share of the wall's height under which a rim is a leak.
const lowRim = 0.5

// rim looks at the level that the room holds, and at the fill line.
func (c *checker) rim(f *Frame) bool {
	if f.Rim-f.Floor < lowRim*(f.Top-f.Floor) {
		c.add(moldbox.Stop, LeaksCode, &f.RimAt, f.Rim-f.Floor, f.Top-f.Floor, "mm",
			fmt.Sprintf("rubber runs out %.1f mm over the floor, and the wall is %.1f mm high", f.Rim-f.Floor, f.Top-f.Floor), "close the hole or the gap in the wall")
		return false
	}
	if f.Fill > f.Rim || f.Fill <= f.Floor {
		c.add(moldbox.Stop, FillCode, &f.RimAt, f.Fill-f.Floor, f.Rim-f.Floor, "mm",
			fmt.Sprintf("the fill line is %.1f mm over the floor, and rubber runs over at %.1f mm", f.Fill-f.Floor, f.Rim-f.Floor),
			"choose a lower fill line")
		return false
	}
	if f.Top-f.Rim > 0.5 {
		c.add(moldbox.Note, RimCode, &f.RimAt, f.Top-f.Rim, 0.5, "mm",
			fmt.Sprintf("the wall's lowest place is %.1f mm under its highest", f.Top-f.Rim), "")
	}
	return true
}

// lowRidge is up to what height over the floor thin rubber is no matter, mm: letters
// and vents leave such ridges.
const lowRidge = 1.0

// rubber looks at the rubber of the half: thin places, and what holds it in its frame.
func (c *checker) rubber(ctx context.Context, f *Frame, s geom.Solid, limits moldbox.CheckSpec, least float64) error {
	for _, at := range f.Standing {
		c.add(moldbox.Warn, StandsCode, &at, at.Z-f.Fill, 0, "mm", fmt.Sprintf("something stands %.1f mm out of the rubber: the half gets a hole there", at.Z-f.Fill),
			"fill higher, or draw it lower, unless the hole is meant")
	}
	if over := f.Fill - f.Relief; f.Relief > f.Floor && over < least {
		c.add(moldbox.Warn, ThinCode, &f.ReliefAt, over, least, "mm", fmt.Sprintf("only %.1f mm of rubber cover its highest point", over), "fill higher, or draw the walls higher")
	}
	above := f.Inside
	above.Min.Z = f.Floor + lowRidge
	room := geom.Subtract(geom.Block(above), s)
	worst := column.ThinPlace{Thickness: math.Inf(1)}
	for _, along := range []geom.Vec{{X: 1}, {Y: 1}} {
		grid, err := column.Cut(ctx, room, column.Options{Up: along, Step: step})
		if err != nil {
			return err
		}
		for _, p := range grid.ThinPlaces(room, limits.Rubber) {
			if !p.Gap && p.Area >= 2 && p.Thickness < worst.Thickness {
				worst = p
			}
		}
	}
	if worst.Thickness < limits.Rubber {
		c.add(moldbox.Warn, ThinCode, &worst.At, worst.Thickness, limits.Rubber, "mm", fmt.Sprintf("the rubber is only %.1f mm thick: it tears when you pull castings out", worst.Thickness),
			"leave more room there")
	}
	grid, err := column.Cut(ctx, s, column.Options{Within: f.Inside, Step: step})
	if err != nil {
		return err
	}
	if u := grid.Undercut(column.Draw{From: f.Floor}); u.Depth > limits.Undercut {
		c.add(moldbox.Warn, BehindCode, &u.At, u.Depth, limits.Undercut, "mm", fmt.Sprintf("the rubber reaches %.1f mm under something that hangs over: it must stretch that far to come out of the frame", u.Depth),
			"draw it without the overhang, or use a soft rubber")
	}
	return nil
}
