package heat

import (
	"cmp"
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
func rhythmPace() pace { return pace{first: 0.2, opened: 1, share: 0.4, steady: 2, slow: 0.07} }

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
	c := &caster{ctx: ctx, s: newState(g), opt: Options{Every: ask.Every, Open: ask.Open, Lies: ask.Lies, Longest: opt.Longest}}
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

// shoot pours once and waits until the next pour. It returns the skin's mean then, too.
func (c *caster) shoot() (w Warmth, skin float64, err error) {
	if c.poured > 0 {
		c.s.pour()
	}
	c.poured++
	shot, _, err := c.s.shoot(c.ctx, &c.opt, rhythmPace(), false)
	_, skin, _ = c.s.skinBefore()
	return Warmth{Skin: shot.SkinMeanBefore, Fill: shot.MeanBefore, Solid: shot.Solid, Opened: shot.Opened}, skin, err
}

// answer computes all that is asked.
func (c *caster) answer(ask Rhythm) (r Rhythmic, err error) {
	var run []round
	for range max(1, ask.Shots) {
		before := c.s.staying()
		w, skin, err := c.shoot()
		if err != nil {
			return Rhythmic{}, err
		}
		r.Shots, run = append(r.Shots, w), append(run, round{before, c.s.staying(), skin})
	}
	if r.Settled, _, err = c.settle(run, c.shoot, sameEnd); err != nil {
		return Rhythmic{}, err
	}
	r.Within = shotsUntil(r.Shots, r.Settled.Skin)
	if ask.Wanted > 0 {
		r.Keeps, err = c.keeping(ask.Wanted, r.Settled)
	}
	return r, err
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

// It is looked where shots end up after each perLook of them, by the last lookBack: a
// shot that begins as the last one left the mold steadies what is found (Pratapa et al.,
// J. Comput. Phys. 306 (2016) 43, from memory), and earlier ones mislead where a shot's time, too,
// goes by how warm the mold is. Looks are enough that differ by less than sameEnd, K,
// or sameRhythm of the rhythm.
const (
	perLook, lookBack, mostLooks = 2, 4, 12
	sameEnd, sameRhythm          = 0.5, 0.005
)

// settle puts the mold where shots end up and pours there, time and again, until the
// figure that shot returns of the mold after it ends up within near of where it did
// before. run is what was poured already. It returns the last shot and the figure.
func (c *caster) settle(run []round, shot func() (Warmth, float64, error), near float64) (is Warmth, end float64, err error) {
	last := math.Inf(1)
	for range mostLooks {
		if len(run) > 0 {
			var stays []float64
			run = run[max(0, len(run)-lookBack):]
			stays, end = c.s.limit(run)
			if math.Abs(end-last) < near && math.Abs(end-run[len(run)-1].figure) < near {
				break
			}
			c.s.put(stays)
			last = end
		}
		for range perLook {
			before := c.s.staying()
			var figure float64
			if is, figure, err = shot(); err != nil {
				return is, end, err
			}
			run = append(run, round{before, c.s.staying(), figure})
		}
	}
	return is, end, nil
}

// quickest is how soon after one casting is out the next can be poured, s: a hook is
// put in and the mold closed (common practice, no source). After a day's wait at most
// it is poured however warm the mold is.
const quickest, dayLong = 20, 86400

// keeping looks for the rhythm that keeps the skin at a temperature: where the times
// settle after which the skin has cooled to it.
func (c *caster) keeping(wanted float64, at Warmth) (float64, error) {
	air := c.s.g.scene.AirC
	if wanted <= air {
		return math.Inf(1), nil
	}
	if at.Skin < wanted-sameEnd && c.opt.Every <= math.Max(c.opt.Open, at.Solid)+quickest {
		return 0, nil
	}
	c.s.warm((wanted - air) / (at.Skin - air))
	is, often, err := c.settle(nil, func() (Warmth, float64, error) { return c.shootAt(wanted) }, sameRhythm)
	switch every := math.Exp(often); {
	case is.Skin < wanted-sameEnd:
		return 0, err
	case every > dayLong*(1-sameRhythm):
		return math.Inf(1), err
	default:
		return every, err
	}
}

// shootAt pours once and waits until the skin has cooled to a temperature. It returns
// the logarithm of the time from pour to pour.
func (c *caster) shootAt(wanted float64) (Warmth, float64, error) {
	if c.poured > 0 {
		c.s.pour()
	}
	c.poured++
	opt := c.opt
	opt.Every = 0
	shot, _, err := c.s.shoot(c.ctx, &opt, rhythmPace(), true)
	if err == nil {
		err = c.cool(wanted)
	}
	return Warmth{Skin: shot.SkinMeanBefore}, math.Log(c.s.time), err
}

// cool opens the mold and waits until the skin is as cold as is wanted.
func (c *caster) cool(wanted float64) error {
	const near = 0.05 // K
	s := c.s
	air, since, shut := s.g.scene.AirC, s.time, math.Inf(1)
	soonest := since + quickest
	if c.opt.Lies > 0 {
		shut = since + c.opt.Lies
	}
	s.opened()
	to, was, before := since+quickest/2, 0.0, 0.0
	for {
		to = math.Min(math.Min(to, shut), dayLong)
		if !s.march(to, since, rhythmPace(), func() bool { return false }, func(float64) bool { return c.ctx.Err() == nil }) {
			return cmp.Or(c.ctx.Err(), ErrSteps)
		}
		_, skin, _ := s.skinBefore()
		if s.time >= soonest-1e-9 && skin < wanted+near || s.time >= dayLong {
			return nil
		}
		// It cools the slower the colder it is: no sooner than the last rate says.
		rise := skin - air
		wait := s.time / 8
		if was > rise {
			wait = math.Min(8*wait, math.Log(rise/(wanted-air))*(s.time-before)/math.Log(was/rise))
		}
		to, was, before = math.Max(soonest, s.time+wait), rise, s.time
		if s.time >= shut {
			s.shut()
			since, shut, was = s.time, math.Inf(1), 0
		}
	}
}
