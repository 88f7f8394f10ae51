package heat

import (
	"math"
	"sort"

	"halfpour/geom"
)

// watch follows one shot, step by step, for what is asked of it.
type watch struct {
	s     *state
	opt   *Options
	cast  []int32   // parts
	share []float64 // solid, of each of cast, after the last step
	shot  Shot
	feed  *feed // nil when not asked
	flow  *flow

	skins []int32   // links
	hot   []float64 // of each of skins, after the last step
	above [][]float64
}

func newWatch(s *state, opt *Options) *watch {
	w := &watch{s: s, opt: opt, shot: Shot{Bodies: make([]Frozen, len(s.g.scene.Bodies)), Solid: math.Inf(1)}}
	for i, p := range s.g.parts {
		if p.body == s.g.fill() {
			continue
		}
		b := &w.shot.Bodies[p.body]
		b.Volume += s.volume[i] * s.g.copies()
		if s.g.scene.Bodies[p.body].Role.Cast() {
			w.cast = append(w.cast, int32(i))
			w.share = append(w.share, s.share(i))
			b.Solid = math.Inf(1)
		}
	}
	for i := range s.links {
		if s.links[i].kind == skin {
			w.skins = append(w.skins, int32(i))
		}
	}
	w.hot = make([]float64, len(w.skins))
	w.shot.SkinBefore, w.shot.SkinMeanBefore, w.shot.MeanBefore = s.skinBefore()
	for i, link := range w.skins {
		w.hot[i] = s.temperature[s.links[link].b]
	}
	w.above = make([][]float64, len(opt.Limits))
	for i := range w.above {
		w.above[i] = make([]float64, len(w.skins))
	}
	w.shot.Skin = Skin{Hottest: math.Inf(-1), Above: make([]float64, len(opt.Limits)), AboveAt: make([]geom.Vec, len(opt.Limits))}
	if opt.Coherent > 0 {
		w.feed = newFeed(s, w.cast, opt.Coherent)
		w.flow = newFlow(s, w.feed)
	}
	return w
}

// copies is how many times what is computed stands in the mold.
func (g *grid) copies() float64 {
	if g.halved {
		return 2
	}
	return 1
}

// skinBefore returns the hottest and the mean temperature of the fill where it
// will touch melt, and the mean of all fill.
func (s *state) skinBefore() (hottest, mean, all float64) {
	hottest = math.Inf(-1)
	area, volume := 0.0, 0.0
	for i := range s.links {
		if l := &s.links[i]; l.kind == skin {
			t := s.temperature[l.b]
			hottest = math.Max(hottest, t)
			mean += t * l.area
			area += l.area
		}
	}
	for i, p := range s.g.parts {
		if p.body == s.g.fill() {
			all += s.temperature[i] * p.volume
			volume += p.volume
		}
	}
	return hottest, mean / math.Max(area, 1e-12), all / math.Max(volume, 1e-12)
}

// solidAll reports whether no melt is left.
func (w *watch) solidAll() bool { return !math.IsInf(w.shot.Solid, 1) }

// see takes in a step that began at a time.
func (w *watch) see(from float64) {
	w.freeze(from)
	w.skin(from)
	if w.feed != nil {
		w.feed.see(w.s, w.share)
		w.flow.see(w.s, w.feed, w.share)
	}
}

// freeze notes where the last melt became solid on the way.
func (w *watch) freeze(from float64) {
	s := w.s
	liquid := false
	for i, p := range w.cast {
		was := w.share[i]
		now := s.share(int(p))
		w.share[i] = now
		if now < 1 {
			liquid = true
			continue
		}
		if was >= 1 {
			continue
		}
		at := s.time
		c := s.of[p]
		solid := c.h[c.lastSolid()]
		if d := s.before[p] - s.heat[p]; d > 0 {
			at = from + (s.time-from)*math.Max(0, math.Min(1, (s.before[p]-solid)/d))
		}
		b := &w.shot.Bodies[s.g.parts[p].body]
		if math.IsInf(b.Solid, 1) || at >= b.Solid {
			b.Solid, b.Last = at, s.g.parts[p].centre
		}
	}
	if liquid {
		for i, p := range w.cast {
			if w.share[i] < 1 {
				w.shot.Bodies[s.g.parts[p].body].Solid = math.Inf(1)
			}
		}
		w.shot.Solid = math.Inf(1)
		return
	}
	if math.IsInf(w.shot.Solid, 1) {
		w.shot.Solid = 0
		for i, b := range w.shot.Bodies {
			if s.g.scene.Bodies[i].Role.Cast() && b.Volume > 0 && b.Solid >= w.shot.Solid {
				w.shot.Solid, w.shot.SolidAt = b.Solid, b.Last
			}
		}
	}
}

// lastSolid is the index of the last state of which all is solid.
func (c *curve) lastSolid() int {
	for i, x := range c.solid {
		if x < 1 {
			return max(0, i-1)
		}
	}
	return len(c.solid) - 1
}

// tooShort is for how long after the pour the skin is not looked at, s: until
// the melt at it has cooled, which cells do not show. No rubber suffers so soon.
const tooShort = 0.1

// skin notes how hot the fill's surface is.
func (w *watch) skin(from float64) {
	s := w.s
	for i, link := range w.skins {
		l := &s.links[link]
		was := w.hot[i]
		now := s.temperature[l.b]
		if !s.empty {
			// From the melt's middle through its own part and the contact.
			q := s.flow[link] / l.area * (s.temperature[l.a] - now)
			now = s.temperature[l.a] - q*(l.da/s.of[l.a].conducts(s.heat[l.a], int(s.stretch[l.a]))+l.resistance)
		}
		w.hot[i] = now
		if now > w.shot.Skin.Hottest && s.time >= tooShort {
			w.shot.Skin.Hottest, w.shot.Skin.When, w.shot.Skin.At = now, s.time, s.g.between(l)
		}
		for k, limit := range w.opt.Limits {
			w.above[k][i] += (s.time - from) * shareAbove(was, now, limit)
		}
	}
}

// shareAbove is for how much of the way from one value to another a straight
// line is above a limit.
func shareAbove(from, to, limit float64) float64 {
	lo, hi := math.Min(from, to), math.Max(from, to)
	switch {
	case lo >= limit:
		return 1
	case hi <= limit:
		return 0
	}
	return (hi - limit) / (hi - lo)
}

// finish puts the shot's figures together.
func (w *watch) finish() Shot {
	for k := range w.opt.Limits {
		for i, t := range w.above[k] {
			if t > w.shot.Skin.Above[k] {
				w.shot.Skin.Above[k], w.shot.Skin.AboveAt[k] = t, w.s.g.between(&w.s.links[w.skins[i]])
			}
		}
	}
	if w.feed != nil {
		w.feed.finish(w.s, &w.shot)
		for i := range w.shot.Bodies {
			w.shot.Bodies[i].Flow = w.flow.bodies[i]
		}
	}
	return w.shot
}

// sorted returns times in order.
func sorted(times []float64) []float64 {
	list := append([]float64(nil), times...)
	sort.Float64s(list)
	return list
}
