package column

import (
	"context"
	"math"

	"halfpour/geom"
)

// Pour says how liquid comes into a hollow and how air leaves it.
type Pour struct {
	Up     geom.Vec   // against gravity; default +Z
	Source geom.Vec   // where liquid comes in: of the hollow, what is nearest to it
	Open   geom.Solid // air leaves the hollow where it is within this; nil: nowhere
	Within geom.Box   // only this part counts; the zero value takes the hollow's box
	Step   float64    // between the lines that the hollow is cut into, mm; default 0.25
	Least  float64    // volume of a pocket to tell of, mm³; default 0.5
	// Workers is how many at once; 0: all processors. The pockets do not
	// depend on it.
	Workers int
}

// Pocket is air that stays in a hollow when it is filled.
type Pocket struct {
	Top    geom.Vec // its highest point; of a level roof, near the middle
	Spill  float64  // height of the liquid, along Up, that closed it off
	Height float64  // from there to the top, mm; below 0 when the air is lower
	Volume float64  // mm³
	Box    geom.Box // around it
	// Reach holds a point of its roof on each of its lines.
	Reach []geom.Vec
}

const (
	defaultPourStep  = 0.25
	defaultLeastAir  = 0.5
	leastPourPortion = 1e-9 // mm of height: less is rounding
)

// Pockets returns the air that stays in a hollow when liquid is poured slowly
// into it, the largest first. Liquid falls from the source to the bottom under
// it, rises, runs over sills into what is lower beyond, and is level wherever
// it hangs together. Air leaves while it hangs together, over the liquid, with
// an open place; when the liquid cuts it off, it stays, all of it, and nothing
// flows through it from then on. A part of the hollow that no way leads to
// from an open place is a pocket too. Air is not compressed, and liquid
// neither wets nor bridges: surface tension is left out.
//
// The hollow is cut into lines Step apart (see Grid), so that a wall
// thinner than that is not seen and a channel thinner than that may be; along
// the lines heights are exact. Volumes are measured again on lines so fine
// that they are good to 1 % for usual shapes.
func Pockets(ctx context.Context, hollow geom.Solid, p Pour) ([]Pocket, error) {
	if p.Step <= 0 {
		p.Step = defaultPourStep
	}
	if p.Least <= 0 {
		p.Least = defaultLeastAir
	}
	columns, err := Cut(ctx, hollow, Options{Up: p.Up, Within: p.Within, Step: p.Step, Workers: p.Workers})
	if err != nil {
		return nil, err
	}
	cells := newAirCells(columns)
	if len(cells.list) == 0 {
		return nil, nil
	}
	cells.openUp(p.Open)
	found, err := cells.trapped(ctx, cells.nearest(p.Source), p.Least)
	if err != nil {
		return nil, err
	}
	var out []Pocket
	for _, f := range found {
		pocket := cells.describe(f)
		if pocket.Volume, err = cells.measure(ctx, hollow, f); err != nil {
			return nil, err
		}
		if pocket.Volume >= p.Least {
			out = append(out, pocket)
		}
	}
	sortPockets(out)
	return out, nil
}

// sortPockets puts the largest first; of equals the order stays.
func sortPockets(ps []Pocket) {
	for i := 1; i < len(ps); i++ {
		for j := i; j > 0 && ps[j].Volume > ps[j-1].Volume; j-- {
			ps[j], ps[j-1] = ps[j-1], ps[j]
		}
	}
}

// trap is air as cells, cut off when cell closer was full.
type trap struct {
	cells  []int32
	closer int32 // -1: never joined to an open place
	when   int32
	floors []float64 // of each cell, the liquid's height in it then, or its own bottom
	volume float64
}

// describe says where a trap is.
func (a *airCells) describe(f trap) Pocket {
	p := Pocket{Box: geom.EmptyBox(), Spill: math.Inf(1)}
	top, low := math.Inf(-1), math.Inf(1)
	for k, id := range f.cells {
		c := a.list[id]
		if c.hi-f.floors[k] > leastPourPortion {
			top, low = max(top, c.hi), min(low, f.floors[k])
		}
	}
	p.Spill = low
	if f.closer >= 0 {
		p.Spill = a.list[f.closer].hi
	}
	p.Height = top - p.Spill
	var middle geom.Vec
	roof := 0.0
	for k, id := range f.cells {
		c := a.list[id]
		if c.hi-f.floors[k] <= leastPourPortion {
			continue
		}
		at := a.at(id, c.hi)
		p.Box = p.Box.Include(at).Include(a.at(id, f.floors[k]))
		if a.roof(id) {
			p.Reach = append(p.Reach, at)
			if c.hi > top-levelRoof {
				middle, roof = middle.Add(at), roof+1
			}
		}
	}
	if roof == 0 {
		p.Top = p.Box.Centre()
		return p
	}
	middle = middle.Mul(1 / roof)
	nearest := math.Inf(1)
	for _, at := range p.Reach {
		if d := at.Dist(middle); a.columns.Height(at) > top-levelRoof && d < nearest {
			nearest, p.Top = d, at
		}
	}
	return p
}

// levelRoof is by how much a roof may fall and still count as level, mm.
const levelRoof = 0.005
