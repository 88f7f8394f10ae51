package moldbox

import (
	"context"
	"fmt"
	"math"
	"math/bits"
	"slices"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// leastKeys hold two halves against shift and turn; maxKeys keeps the search
// for a one-way pattern short.
const leastKeys, maxKeys = 3, 12

// ball is the ball of which the key's dome is a cap, in mold coordinates; grown
// makes it the socket's. The bump of the left half stands down into -Z.
func (k Key) ball(grown float64) geom.Solid {
	r, h := k.Diameter/2, k.Depth
	radius := (r*r + h*h) / (2 * h)
	return geom.Ball(geom.Vec{X: k.At.X, Y: k.At.Y, Z: k.side() * (h - radius)}, radius+grown)
}

// side is the sign of z on which the bump stands.
func (k Key) side() float64 {
	if k.BumpLeft {
		return -1
	}
	return 1
}

// dome is the key's ball, grown, cut off a little before the parting plane: the
// bump or, grown by the clearance, the socket.
func (k Key) dome(grown float64) geom.Solid {
	return geom.Intersect(k.ball(grown), geom.HalfSpace(geom.Vec{Z: -k.side()}, seam))
}

// gap is the shell between bump and socket.
func (k Key) gap(clearance float64) geom.Solid {
	beyond := geom.HalfSpace(geom.Vec{Z: -k.side()}, 0)
	return geom.Intersect(geom.Subtract(k.ball(clearance), k.ball(0)), beyond)
}

// socketRadius is of the socket's rim in the parting plane.
func (k KeySpec) socketRadius() float64 {
	r, h := k.Diameter/2, k.Depth
	radius := (r*r + h*h) / (2 * h)
	drop, grown := radius-h, radius+k.Clearance
	return math.Sqrt(grown*grown - drop*drop)
}

// keyRoom is where keys may go.
type keyRoom struct {
	ctx    context.Context // ends the search
	spec   KeySpec
	inside geom.Box
	corner float64
	avoid  obstacles
}

// insideRounded is the distance from p to the edge of a rectangle with round
// corners, negative outside.
func insideRounded(b geom.Box, corner float64, p geom.Vec) float64 {
	q := p.Sub(b.Centre()).Abs().Sub(b.Size().Mul(0.5)).Add(geom.Vec{X: corner, Y: corner})
	out := math.Hypot(math.Max(q.X, 0), math.Max(q.Y, 0))
	return corner - out - math.Min(0, math.Max(q.X, q.Y))
}

// candidates are the free places on a grid of about 1 mm.
func (r keyRoom) candidates() []geom.Vec {
	need := r.spec.socketRadius() + r.spec.Clear
	lo, hi := r.inside.Min, r.inside.Max
	lo.X, lo.Y, hi.X, hi.Y = lo.X+need, lo.Y+need, hi.X-need, hi.Y-need
	if lo.X > hi.X || lo.Y > hi.Y {
		return nil
	}
	nx, ny := int(hi.X-lo.X)+1, int(hi.Y-lo.Y)+1
	rows := make([][]geom.Vec, ny+1)
	_ = parallel.For(r.ctx, ny+1, 0, func(j int) { // placeKeys asks whether it has ended
		var clear clearance
		for i := 0; i <= nx && r.ctx.Err() == nil; i++ {
			p := geom.Vec{
				X: lo.X + (hi.X-lo.X)*float64(i)/float64(nx),
				Y: lo.Y + (hi.Y-lo.Y)*float64(j)/float64(ny),
			}
			if insideRounded(r.inside, r.corner, p) >= need && clear.of(r.avoid, p, need) {
				rows[j] = append(rows[j], p)
			}
		}
	})
	return slices.Concat(rows...)
}

// places chooses up to Count places, first near the corners, then each as far
// as possible from those before.
func (r keyRoom) places() []geom.Vec {
	free := r.candidates()
	apart := 2*r.spec.socketRadius() + r.spec.Clear
	var chosen []geom.Vec
	room := func(p geom.Vec) float64 {
		d := math.Inf(1)
		for _, q := range chosen {
			d = math.Min(d, p.Dist(q))
		}
		return d
	}
	take := func(score func(geom.Vec) float64) {
		best, at := math.Inf(-1), -1
		for i, p := range free {
			if s := score(p); room(p) >= apart && s > best {
				best, at = s, i
			}
		}
		if at >= 0 {
			chosen = append(chosen, free[at])
		}
	}
	for _, i := range []int{0, 3, 1, 2} { // opposite corners first
		if len(chosen) < r.spec.Count {
			corner := r.inside.Corner(i)
			take(func(p geom.Vec) float64 { return -p.Dist(corner) })
		}
	}
	for len(chosen) < r.spec.Count {
		n := len(chosen)
		take(room)
		if len(chosen) == n {
			break
		}
	}
	return chosen
}

// placeKeys places the keys and shares bumps and sockets out so that the
// halves close one way only. Fewer than leastKeys is an error.
func placeKeys(ctx context.Context, spec Spec, inside geom.Box, avoid obstacles) ([]Key, []Finding, error) {
	room := keyRoom{ctx, spec.Keys, inside, spec.Frame.Corner, avoid}
	places := room.places()
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	if n := len(places); n < leastKeys {
		cause, figures := room.cure(spec)
		return nil, nil, refused("Keys.Count", "needs room for at least", float64(n), leastKeys, "", "").because(cause, figures...)
	}
	keys := make([]Key, len(places))
	mask, oneWay := oneWayPattern(places, inside.Centre(), spec.Keys.Diameter/2)
	for i, p := range places {
		keys[i] = Key{At: p, Diameter: spec.Keys.Diameter, Depth: spec.Keys.Depth, BumpLeft: mask>>i&1 == 1}
	}
	var findings []Finding
	if len(places) < spec.Keys.Count {
		cause, figures := room.cure(spec)
		findings = append(findings, Finding{
			Severity: Note, Code: "fewer-keys", Value: float64(len(places)), Limit: float64(spec.Keys.Count),
			Message: fmt.Sprintf("only %d of %d keys fit", len(places), spec.Keys.Count), Cause: cause, Figures: figures,
		})
	}
	if !oneWay {
		findings = append(findings, Finding{
			Severity: Warn, Code: "keys-symmetric", Message: "the halves also close when one is turned by 180°",
		})
	}
	return keys, findings, nil
}

// cure tries more rubber to the walls, and finds the least that makes room for
// all.
func (r keyRoom) cure(spec Spec) (Cause, []any) {
	for more := 1.0; more <= 12 && r.ctx.Err() == nil; more++ {
		wide := r
		wide.inside.Min.X -= more
		wide.inside.Max.X += more
		wide.inside.Min.Y -= more
		if len(wide.places()) >= spec.Keys.Count {
			return KeysNeedWall, []any{spec.Frame.ToWall + more, spec.Keys.Count}
		}
	}
	return KeysNeedRoom, nil
}

// oneWayPattern chooses which keys are bumps of the left half (bits of the
// mask), as evenly as possible, such that no turn of one half by 90°, 180° or
// 270° in the parting plane brings every bump into a socket. tol is how near
// a bump must come to a socket's place to be feared to go in.
func oneWayPattern(places []geom.Vec, centre geom.Vec, tol float64) (mask int, ok bool) {
	best, uneven := -1, len(places)+1
	for m := 1; m < 1<<len(places)-1; m++ {
		u := 2*bits.OnesCount(uint(m)) - len(places)
		if u < 0 {
			u = -u
		}
		if u < uneven && !closesTurned(places, m, centre, tol) {
			best, uneven = m, u
		}
	}
	if best < 0 {
		return 1, false
	}
	return best, true
}

// closesTurned reports whether a turned half still closes: each of its keys
// falls on a place of the same kind.
func closesTurned(places []geom.Vec, mask int, centre geom.Vec, tol float64) bool {
	for _, turn := range []float64{math.Pi / 2, math.Pi, 3 * math.Pi / 2} {
		back := geom.Move(centre.Neg()).Then(geom.Rotate(geom.Vec{Z: 1}, turn)).Then(geom.Move(centre))
		closes := true
		for i, p := range places {
			q, meets := back.Point(p), false
			for j, o := range places {
				if mask>>i&1 == mask>>j&1 && q.Dist(o) <= tol {
					meets = true
				}
			}
			closes = closes && meets
		}
		if closes {
			return true
		}
	}
	return false
}
