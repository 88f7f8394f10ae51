package pourplan

import (
	"math"
	"testing"

	"halfpour/moldbox"
)

// castOf is a shot of which each head was solid to a share when it was cut off.
func castOf(shares ...float64) moldbox.MeasuredCast {
	var c moldbox.MeasuredCast
	for _, s := range shares {
		c.Best.Heads = append(c.Best.Heads, moldbox.FrozenHead{Fed: s})
		c.Slow.Heads = append(c.Slow.Heads, moldbox.FrozenHead{Fed: s + 0.03})
	}
	return c
}

// What was computed of a head takes the place of a half: a fifth to each side of
// both ends, and no less than nothing.
func TestComputedShare(t *testing.T) {
	got := computedShare(moldbox.FrozenHead{Fed: 0.6}, moldbox.FrozenHead{Fed: 0.7})
	near(t, "low", got.Lo, 0.4, 1e-12)
	near(t, "best", got.Best, 0.6, 1e-12)
	near(t, "high", got.Hi, 0.9, 1e-12)
	if got := computedShare(moldbox.FrozenHead{Fed: 0.1}, moldbox.FrozenHead{Fed: 0.9}); got.Lo != 0 || got.Hi != 1 {
		t.Errorf("got %v", got)
	}
}

// Heads made to a weight weigh it, whatever is fed in them: less metal is fed, more
// room is made. The plan's factor is the mean by mass, and an account's line keeps
// its meaning.
func TestHeadsByWhatIsFed(t *testing.T) {
	plain := read(t, shortJob)
	m, err := plain.Metal.resolve()
	if err != nil {
		t.Fatal(err)
	}
	alike := plain.WithCast(castOf(0.2, 0.6, 0.7))
	near(t, "fed of alike heads", alike.fed[2].Best, 0.5, 1e-12)
	job := *plain
	for _, share := range []float64{0.2, 0.6, 0.6} {
		job.fed = append(job.fed, computedShare(moldbox.FrozenHead{Fed: share}, moldbox.FrozenHead{Fed: share + 0.03}))
	}
	shrinks := 1 - m.Heat.LiquidDensity/m.Heat.HotDensity
	near(t, "fed of the first", job.inCavity(0, m).fed().Best, 1-0.8*shrinks, 1e-12)
	near(t, "its low end", job.inCavity(0, m).fed().Lo, 1-shrinks, 1e-12)
	near(t, "its high end", job.inCavity(0, m).fed().Hi, 1-(1-0.43)*shrinks, 1e-12)
	near(t, "fed of the second", job.inCavity(1, m).fed().Best, 1-0.4*shrinks, 1e-12)
	was, now := plan(t, plain, measuredBalls(3)), plan(t, &job, measuredBalls(3))
	for i, share := range []float64{0.2, 0.6, 0.6} {
		near(t, "weight", now.Heads[i].MetalG.Best/was.Heads[i].MetalG.Best, (1-(1-share)*shrinks)/(1-0.5*shrinks), 1e-12)
	}
	g := [3]float64{now.Heads[0].MetalG.Best, now.Heads[1].MetalG.Best, now.Heads[2].MetalG.Best}
	mean := (0.2*g[0] + 0.6*(g[1]+g[2])) / (g[0] + g[1] + g[2])
	near(t, "mean", now.Metal.FedFactor.Best, 1-(1-mean)*shrinks, 1e-12)
	near(t, "volume in an account", now.Metal.accountShare()/was.Metal.accountShare(), now.Metal.FedFactor.Best/was.Metal.FedFactor.Best, 1e-12)
	near(t, "meaning of an account", now.Metal.AccountFactor, was.Metal.AccountFactor, 1e-12)

	// Of a mold's spec: the first head gets that much more room.
	a, b := job.Placed()[0], plain.Placed()[0]
	a.Weight.Target, b.Weight.Target = 10, 10
	v := moldbox.Cavity{}
	more, _ := a.metalVolume(job.inCavity(0, m), v)
	half, _ := b.metalVolume(m, v)
	near(t, "room", more/half, (1-0.5*shrinks)/(1-0.8*shrinks), 1e-12)

	// A factor of weighed heads has in it what is not known of feeding.
	m.Weighed = true
	if fed := job.inCavity(0, m).fed(); fed.Lo != fed.Hi || math.Abs(fed.Best-(1-0.8*shrinks)) > 1e-12 {
		t.Errorf("weighed: %v", fed)
	}
}
