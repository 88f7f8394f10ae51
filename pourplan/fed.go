package pourplan

import (
	"math"
	"reflect"

	"halfpour/moldbox"
)

// notComputed is what share of a head is solid when no more melt can flow on into
// it: somewhere between none and all, as long as nobody has computed or weighed
// it.
func notComputed() Span { return Span{0, 0.5, 1} }

// fedWithin is how well the computed share is known. Melt stops flowing through a
// mush of half to four fifths solid, where 0.65 is taken (from memory); cells a
// third as large give up to 0.1 more.
const fedWithin = 0.2

// computedShare is the share with its range, as the shot was computed as expected
// and at the slow end.
func computedShare(best, slow moldbox.FrozenHead) Span {
	return Span{math.Max(0, math.Min(best.Fed, slow.Fed)-fedWithin), best.Fed, math.Min(1, math.Max(best.Fed, slow.Fed)+fedWithin)}
}

// WithCast returns the job for a mold of which a shot was computed: heads are made
// to the weight that is asked for with what is fed in it. Heads that are asked for
// alike get the mean of theirs, so that they stay alike.
func (j *Job) WithCast(cast moldbox.MeasuredCast) *Job {
	out := *j
	out.fed = make([]Span, len(cast.Best.Heads))
	placed := j.Placed()
	for i := range out.fed {
		n := 0.0
		for k, best := range cast.Best.Heads {
			if !reflect.DeepEqual(placed[i].Head, placed[k].Head) || placed[i].Weight != placed[k].Weight {
				continue
			}
			s := computedShare(best, cast.Slow.Heads[k])
			f := &out.fed[i]
			f.Lo, f.Best, f.Hi = f.Lo+s.Lo, f.Best+s.Best, f.Hi+s.Hi
			n++
		}
		out.fed[i] = Span{out.fed[i].Lo / n, out.fed[i].Best / n, out.fed[i].Hi / n}
	}
	return &out
}

// inCavity is the metal as it is fed in a cavity.
func (j *Job) inCavity(i int, m Metal) Metal {
	if i < len(j.fed) {
		m.Fed = j.fed[i]
	}
	return m
}

// inAll is the metal as it is fed in all heads together, which weigh so much.
func (j *Job) inAll(m Metal, heads []HeadPlan) Metal {
	if len(j.fed) != len(heads) {
		return m
	}
	sum := 0.0
	for i, h := range heads {
		f := j.fed[i]
		m.Fed.Lo, m.Fed.Best, m.Fed.Hi = m.Fed.Lo+h.MetalG.Best*f.Lo, m.Fed.Best+h.MetalG.Best*f.Best, m.Fed.Hi+h.MetalG.Best*f.Hi
		sum += h.MetalG.Best
	}
	m.Fed = Span{m.Fed.Lo / sum, m.Fed.Best / sum, m.Fed.Hi / sum}
	return m
}

// fed is what a head weighs over one that is fed until all of it is solid: the
// rest of it was melt when it was cut off, and shrinks into a void. 1 when heats
// or solidus are not known. A metal that grows as it freezes may fill more. A fill
// factor that was weighed has what is not known of it.
func (m Metal) fed() Span {
	if m.Heat == nil || m.Freezes == nil {
		return exactly(1)
	}
	share := m.Fed
	if share == (Span{}) {
		share = notComputed()
	}
	of := func(solid float64) float64 { return solid + (1-solid)*m.Heat.LiquidDensity/m.Heat.HotDensity }
	if m.Weighed {
		return exactly(of(share.Best))
	}
	lo, hi := of(share.Lo), of(share.Hi)
	return Span{math.Min(lo, hi), of(share.Best), math.Max(lo, hi)}
}
