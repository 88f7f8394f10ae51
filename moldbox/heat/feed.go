package heat

import (
	"math"

	"halfpour/geom/unionfind"
)

// feed follows which melt can still be fed from a funnel or runner: through
// parts that are less solid than what keeps melt from flowing.
type feed struct {
	coherent float64
	cast     []int32    // parts
	ways     [][2]int32 // between indices of cast
	feeds    []bool     // parts of funnels and runners
	solid    []float64  // when a part became solid, s
	cut      []cutOff   // of each part
	heads    []headFeed // by body
}

// cutOff is how a part lost its feed.
type cutOff struct {
	done  bool
	share float64 // that was solid
	piece int32   // the melt that was cut off with it; -1 when it was too solid to flow
}

// headFeed is how a body is fed.
type headFeed struct {
	shut  float64 // s, the last time that any of it was fed
	share float64 // that was solid then
}

func newFeed(s *state, cast []int32, coherent float64) *feed {
	n := len(cast)
	f := &feed{coherent: coherent, cast: cast, feeds: make([]bool, n), solid: make([]float64, n),
		cut: make([]cutOff, n), heads: make([]headFeed, len(s.g.scene.Bodies))}
	place := make([]int32, len(s.g.parts))
	for i := range place {
		place[i] = -1
	}
	for i, p := range cast {
		place[p] = int32(i)
		f.solid[i] = math.Inf(1)
		f.feeds[i] = s.g.scene.Bodies[s.g.parts[p].body].Role.feeds()
	}
	for i := range s.links {
		if a, b := place[s.links[i].a], place[s.links[i].b]; a >= 0 && b >= 0 {
			f.ways = append(f.ways, [2]int32{a, b})
		}
	}
	return f
}

// melt joins what is less solid than a limit, and says which roots have a feed.
func (f *feed) melt(share []float64, limit float64) (sets unionfind.Sets, fed []bool) {
	sets = unionfind.New(len(f.cast))
	for _, w := range f.ways {
		if share[w[0]] < limit && share[w[1]] < limit {
			sets.Join(w[0], w[1])
		}
	}
	fed = make([]bool, len(f.cast))
	for i := range f.cast {
		if f.feeds[i] && share[i] < limit {
			fed[sets.Root(int32(i))] = true
		}
	}
	return sets, fed
}

// see looks who is fed after a step. A piece is named after the root of its
// set and the step: no later set has the same.
func (f *feed) see(s *state, share []float64) {
	sets, fed := f.melt(share, f.coherent)
	bodies := make([]float64, len(f.heads))
	solid := make([]float64, len(f.heads))
	open := make([]bool, len(f.heads))
	for i, p := range f.cast {
		body := s.g.parts[p].body
		bodies[body] += s.volume[p]
		solid[body] += s.volume[p] * share[i]
		if share[i] >= 1 && math.IsInf(f.solid[i], 1) {
			f.solid[i] = s.time
		}
		root := sets.Root(int32(i))
		isFed := share[i] < f.coherent && fed[root]
		open[body] = open[body] || isFed
		if f.cut[i].done || isFed {
			continue
		}
		f.cut[i] = cutOff{done: true, share: share[i], piece: -1}
		if share[i] < f.coherent {
			f.cut[i].piece = root
		}
	}
	for b := range f.heads {
		if open[b] {
			f.heads[b] = headFeed{s.time, solid[b] / bodies[b]}
		}
	}
}

// finish sets what a shot's bodies have of feeding.
func (f *feed) finish(s *state, shot *Shot) {
	type key struct {
		body  int
		piece int32
	}
	melt, last := map[key]float64{}, map[key]int{}
	volume := make([]float64, len(f.heads))
	for i, p := range f.cast {
		body := s.g.parts[p].body
		volume[body] += s.volume[p]
		share := f.cut[i].share
		if !f.cut[i].done {
			share = s.share(int(p))
		}
		b := &shot.Bodies[body]
		b.FedShare += s.volume[p] * share
		if k := (key{body, f.cut[i].piece}); f.cut[i].done && k.piece >= 0 {
			cut := s.volume[p] * (1 - share) * s.g.copies()
			b.CutOff += cut
			melt[k] += cut
			if j, ok := last[k]; !ok || f.solid[i] > f.solid[j] {
				last[k] = i
			}
			if melt[k] > b.CutOffMost {
				b.CutOffMost = melt[k]
			}
		}
	}
	for i, p := range f.cast {
		k := key{s.g.parts[p].body, f.cut[i].piece}
		if j, ok := last[k]; ok && i == j && melt[k] == shot.Bodies[k.body].CutOffMost {
			shot.Bodies[k.body].CutOffAt = s.g.parts[p].centre
		}
	}
	for b := range shot.Bodies {
		if volume[b] > 0 {
			shot.Bodies[b].FedShare /= volume[b]
			shot.Bodies[b].Shut, shot.Bodies[b].SolidAtShut = f.heads[b].shut, f.heads[b].share
		}
	}
}
