package pourplan

import "math"

// sheetRoom is the room that data sheets state their times for, °C.
const sheetRoom = 23.0

// RoomFactor returns by how much a rubber's times change from those of a room
// of 23 °C: curing goes twice as fast for every 10 K, so times halve. A rule
// of thumb (from memory); platinum-cure rubbers can depend on warmth more.
func RoomFactor(room float64) float64 { return math.Exp2((sheetRoom - room) / 10) }

// bench is how long the work at the bench takes, in s, and what the rubber
// allows in this room.
type bench struct {
	mix, deair, pour float64
	potLife, demold  float64
	rest             float64
	postCure         float64
	restFirst        bool // before the post-cure
}

// newBench takes the times of a job. Rest is not scaled with the room: it is
// days in any case. Tin-cure rubber rests before it is warmed, since heat
// before its alcohol has left softens it.
func newBench(t EveningTable, r Rubber) bench {
	f := RoomFactor(float64(t.Room))
	b := bench{mix: float64(t.Mix), pour: float64(t.Pour), potLife: f * r.PotLife, demold: f * r.Demold,
		rest: r.Rest, postCure: float64(t.PostCure), restFirst: r.Cure == "tin"}
	if r.Vacuum {
		b.deair = float64(t.Deair)
	}
	return b
}

// oneMix returns how long a mix for both halves is in use, from the first B to
// the last of the pouring, s; oneHalf the same for a half alone.
func (b bench) oneMix() float64  { return b.oneHalf() + b.pour }
func (b bench) oneHalf() float64 { return b.mix + b.deair + b.pour }

// event is a point of the schedule, s from the first B on.
type event struct {
	code     string
	after    float64
	deadline bool // no later than; else no sooner than
}

// schedule lists what happens when, from the start of the first mix to the
// first casting, in the order of work.
func (b bench) schedule(oneMix bool) []event {
	list := []event{{"mix", 0, false}, {"mixed_by", b.mix, true}}
	last := b.oneMix()
	if oneMix {
		list = append(list, event{"second_half", b.oneHalf(), false}, event{"pour_by", b.potLife, true})
	} else {
		second := b.oneHalf()
		last = 2 * second
		list = append(list, event{"pour_by", b.potLife, true}, event{"second_mix", second, false},
			event{"second_mixed_by", second + b.mix, true}, event{"second_pour_by", second + b.potLife, true})
	}
	demold := last + b.demold
	rested := demold + b.rest
	list = append(list, event{"demold", demold, false})
	cured := demold
	if b.postCure > 0 && !b.restFirst {
		cured = demold + b.postCure
		list = append(list, event{"post_cure", demold, false}, event{"post_cure_over", cured, false})
	}
	list = append(list, event{"rest_over", rested, false})
	if b.postCure > 0 && b.restFirst {
		cured = rested + b.postCure
		list = append(list, event{"post_cure", rested, false}, event{"post_cure_over", cured, false})
	}
	return append(list, event{"first_casting", math.Max(rested, cured), false})
}

// FormatPotLife shows a pot life, of more than five minutes in whole ones.
func FormatPotLife(s float64) string {
	if s > 300 {
		s = math.Floor(s/60) * 60
	}
	return FormatDuration(s)
}
