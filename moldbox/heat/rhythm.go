package heat

import (
	"context"
	"fmt"
	"math"
)

// Rhythm asks how warm a mold gets that is cast again and again.
type Rhythm struct {
	Every  float64 // s from one pour to the next
	Open   float64 // s from a pour until the casting is taken out, and no sooner than all metal is solid
	Lies   float64 // s that the mold then lies open, before it is closed; 0: until the next pour
	Shots  int     // to tell of one by one
	Wanted float64 // °C that the skin is to have before a shot; 0: nothing is wanted
}

// Warmth is a mold before a shot, and that shot.
type Warmth struct {
	Skin   float64 // mean of the fill where melt will touch it, before the pour, °C
	Fill   float64 // mean of all fill, before the pour, °C
	Solid  float64 // when all metal is solid, s from the pour; +Inf when it never is
	Opened float64 // when the mold is opened, s from the pour; 0 when the next pour comes before
}

// Rhythmic is what a rhythm makes of a mold.
type Rhythmic struct {
	Shots   []Warmth // one by one
	Settled Warmth   // of a shot after very many
	Within  int      // how many shots it takes until Skin stays within 2 K of that, an estimate when it is more than were asked for

	// Keeps is the rhythm at which Skin settles at what is wanted, s from pour to
	// pour; 0 when even the quickest leaves the mold too cold, +Inf when the air
	// is as warm.
	Keeps float64

	Solved    int     // shots that were computed in all
	HeatError float64 // as in Result
}

// rhythmPace has longer steps than the usual one: the warmth of a mold depends on
// how much heat a shot leaves, not on its moments.
func rhythmPace() pace { return pace{first: 0.01, opened: 1, share: 0.3, steady: 1, slow: 0.05} }

// SolveRhythm computes shot after shot, and from them where the mold's warmth
// settles. Of the options it takes the cells and workers. It fails as Solve does.
func SolveRhythm(ctx context.Context, scene Scene, opt Options, ask Rhythm) (Rhythmic, error) {
	if err := scene.check(); err != nil {
		return Rhythmic{}, err
	}
	if !(ask.Every > 0) {
		return Rhythmic{}, fmt.Errorf("%w: a shot every %g s", errScene, ask.Every)
	}
	opt = opt.settle(&scene)
	g, err := newGrid(ctx, &scene, opt.Cell, opt.Workers)
	if err != nil {
		return Rhythmic{}, err
	}
	c := &caster{ctx: ctx, s: newState(g, opt.Workers), opt: Options{Every: ask.Every, Open: ask.Open, Lies: ask.Lies, Longest: opt.Longest}}
	c.books = c.s.openBooks()
	r, err := c.answer(ask)
	r.Solved, r.HeatError = c.poured, c.books.off(c.s)
	return r, err
}

// caster pours shot after shot.
type caster struct {
	ctx    context.Context
	s      *state
	opt    Options
	books  books
	poured int
}

// shoot pours once and waits until the next pour.
func (c *caster) shoot() (Warmth, error) {
	if c.poured > 0 {
		c.s.pour()
	}
	c.poured++
	shot, _, err := c.s.shoot(c.ctx, &c.opt, rhythmPace(), false)
	return Warmth{Skin: shot.SkinMeanBefore, Fill: shot.MeanBefore, Solid: shot.Solid, Opened: shot.Opened}, err
}

// answer computes all that is asked.
func (c *caster) answer(ask Rhythm) (r Rhythmic, err error) {
	run := [][]float64{c.s.staying()}
	for range max(1, ask.Shots) {
		w, err := c.shoot()
		if err != nil {
			return Rhythmic{}, err
		}
		r.Shots, run = append(r.Shots, w), append(run, c.s.staying())
	}
	if r.Settled, err = c.settle(run); err != nil {
		return Rhythmic{}, err
	}
	r.Within = shotsUntil(r.Shots, r.Settled.Skin)
	if ask.Wanted > 0 {
		if r.Keeps, err = c.keeping(ask.Wanted, r.Settled); err != nil {
			return Rhythmic{}, err
		}
	}
	return r, nil
}

// nearEnd is how near to its end a mold's warmth counts as settled, K.
const nearEnd = 2

// shotsUntil is how many shots it takes until the skin is near its end and stays so.
// Those that were not computed come nearer as the last ones did.
func shotsUntil(shots []Warmth, end float64) int {
	off := func(i int) float64 { return math.Abs(shots[i].Skin - end) }
	n := len(shots)
	for n > 0 && off(n-1) <= nearEnd {
		n--
	}
	if n < len(shots) || n < 2 || off(n-1) >= off(n-2) {
		return n
	}
	return n + int(math.Ceil(math.Log(nearEnd/off(n-1))/math.Log(off(n-1)/off(n-2))))
}

// perCycle is how many shots are poured before it is looked where they end up,
// mostCycles how often at most. One look is enough that differs from the one before
// by less than sameEnd, K.
const (
	perCycle, mostCycles = 3, 8
	sameEnd              = 0.3
)

// settle puts the mold where shots at this rhythm end up, and pours one there. run
// is what stays of the mold before each shot that was poured and after the last.
func (c *caster) settle(run [][]float64) (Warmth, error) {
	last := math.Inf(1)
	for range mostCycles {
		if len(run) > perCycle {
			c.s.put(c.s.limit(run[len(run)-perCycle-1:]))
			_, is, _ := c.s.skinBefore()
			if math.Abs(is-last) < sameEnd {
				break
			}
			last = is
		}
		run = [][]float64{c.s.staying()}
		for range perCycle {
			if _, err := c.shoot(); err != nil {
				return Warmth{}, err
			}
			run = append(run, c.s.staying())
		}
	}
	return c.shoot()
}

const (
	// quickest is how soon after one casting is out the next can be poured, s:
	// a hook is put in and the mold closed (common practice, no source).
	quickest = 20

	keptWithin = 0.5 // of what is wanted, K
	mostTries  = 6
)

// keeping looks for the rhythm that keeps the skin at a temperature, by the rule
// of false position: its rise over the air goes about as how often heat is brought.
func (c *caster) keeping(wanted float64, at Warmth) (float64, error) {
	air := c.s.g.scene.AirC
	if wanted <= air {
		return math.Inf(1), nil
	}
	often, before := 1/c.opt.Every, 0.0 // per s
	rise, riseBefore := at.Skin-air, 0.0
	for range mostTries {
		if math.Abs(air+rise-wanted) < keptWithin {
			break
		}
		slope := (rise - riseBefore) / (often - before)
		if !(slope > 0) {
			slope = rise / often
		}
		next := often + (wanted-air-rise)/slope
		fastest := 1 / (math.Max(c.opt.Open, at.Solid) + quickest)
		if next <= 0 {
			next = often / 2
		}
		if next > fastest {
			if often >= fastest {
				return 0, nil
			}
			next = fastest
		}
		c.s.warm((wanted - air) / rise)
		before, riseBefore, often = often, rise, next
		c.opt.Every = 1 / often
		var err error
		if at, err = c.settle(nil); err != nil {
			return 0, err
		}
		rise = at.Skin - air
	}
	return 1 / often, nil
}
