package moldbox

import (
	"cmp"
	"context"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/geom/parallel"
)

const (
	turnStep    = math.Pi / 12 // between the turns that are tried
	turnAirStep = 0.4          // between the lines on which air is looked for, mm
	turnAir     = 2.0          // of trapped air, mm³, counts as alike
)

// turnTrial is one turn of a head that is tried.
type turnTrial struct {
	turn   float64
	faults int     // gate on the hook, or wider than the head under it
	air    float64 // that stays and that no vent in the parting plane can free, mm³
	rubber float64 // area of the parting plane that the cavity takes, mm²
	err    error
}

// chooseTurns gives every cavity with AutoTurn a turn: the one with the least
// air trapped where no vent can be cut, and of those alike in that the one that
// takes the least rubber. Heads that are alike get the same.
func chooseTurns(ctx context.Context, spec Spec) (Spec, error) {
	if !slices.ContainsFunc(spec.Cavities, func(v Cavity) bool { return v.AutoTurn }) {
		return spec, nil
	}
	asked := spec.Cavities
	spec.Cavities = slices.Clone(asked)
	for i, v := range asked {
		if !v.AutoTurn {
			continue
		}
		twin := slices.IndexFunc(asked[:i], func(w Cavity) bool { return w.AutoTurn && v.same(w) })
		if twin >= 0 {
			spec.Cavities[i].Turn = spec.Cavities[twin].Turn
			continue
		}
		best, err := bestTurn(ctx, v, spec)
		if err != nil {
			return spec, err
		}
		spec.Cavities[i].Turn = best
	}
	return spec, nil
}

func bestTurn(ctx context.Context, v Cavity, spec Spec) (float64, error) {
	modelled, err := headVolume(ctx, v.Head)
	if err != nil {
		return 0, err
	}
	w, err := weigh(ctx, v, modelled, "")
	if err != nil {
		return v.Turn, ctx.Err() // what is wrong, the layout says
	}
	tries := make([]turnTrial, int(math.Round(2*math.Pi/turnStep)))
	if err := parallel.For(ctx, len(tries), 0, func(i int) {
		tries[i] = tryTurn(ctx, v, math.Remainder(float64(i)*turnStep, 2*math.Pi), w, modelled, spec)
	}); err != nil {
		return 0, err
	}
	tries = slices.DeleteFunc(tries, func(t turnTrial) bool { return t.err != nil })
	if len(tries) == 0 {
		return v.Turn, nil // what is wrong, the layout says
	}
	best := slices.MinFunc(tries, func(a, b turnTrial) int {
		return cmp.Or(cmp.Compare(a.faults, b.faults), cmp.Compare(math.Floor(a.air/turnAir), math.Floor(b.air/turnAir)),
			cmp.Compare(a.rubber, b.rubber), cmp.Compare(math.Abs(a.turn), math.Abs(b.turn)))
	})
	return best.turn, nil
}

// tryTurn judges one turn.
func tryTurn(ctx context.Context, v Cavity, turn float64, w weighed, modelled float64, spec Spec) turnTrial {
	t := turnTrial{turn: turn}
	v.Turn = turn
	p, err := weighedPart(ctx, v, w, modelled, spec, nil, "")
	if err != nil {
		t.err = err
		return t
	}
	if !p.gate.clear {
		t.faults++
	}
	if !p.gate.covered {
		t.faults++
	}
	t.rubber = p.taken(spec)
	t.air, t.err = p.strandedAir(ctx, spec.Checks.Air)
	return t
}

// taken is the area of the parting plane that a cavity takes up by its box.
func (p *part) taken(spec Spec) float64 {
	left, right := p.sides(spec.Sprue)
	b, g, f := p.box(), p.gate.at, spec.Frame
	top := math.Max(spec.Sprue.height()+p.gate.rise, b.Max.Y-g.Y+f.ToWall)
	n := float64(len(spec.Cavities))
	return (left + right + (f.Between*(n-1)+2*f.ToWall)/n) * (top + g.Y - b.Min.Y + f.ToWall)
}

// strandedAir is what stays in the head, with its gate alone open, in pockets
// that the parting plane does not meet.
func (p *part) strandedAir(ctx context.Context, least float64) (float64, error) {
	s := p.sprue
	top := math.Max(p.headBox.Max.Y, p.gate.at.Y+s.GateLength) + 3
	s.Mouth = s.Throat // whatever hangs over the head does not matter here
	sprue := s.solid(p.gate.at, top, top+1, p.gate.depth)
	hollow := geom.Union(p.head, sprue)
	if p.wire() != nil {
		hollow = geom.Subtract(hollow, p.wire())
	}
	left, err := column.Pockets(ctx, hollow, column.Pour{
		Up: geom.Vec{Y: 1}, Source: p.gate.at, Open: geom.HalfSpace(geom.Vec{Y: -1}, 0.5-top),
		Step: turnAirStep, Least: least, Workers: 1,
	})
	air := 0.0
	for _, pocket := range left {
		if !meetsParting(pocket) {
			air += pocket.Volume
		}
	}
	return air, err
}

// wire is all wires at their true size, in the part's coordinates; nil without
// any.
func (p *part) wire() geom.Solid {
	var all []geom.Solid
	for _, w := range p.wires {
		all = append(all, w.solid(p.turn))
	}
	if len(all) == 0 {
		return nil
	}
	return geom.Union(all...)
}
