package pourplan

import "time"

// TimesPlan is the rubber's times, and the evening and the days after by the
// clock.
type TimesPlan struct {
	PotLifeS     float64     `json:"pot_life_s"`            // from mixing until it no longer flows, as the data sheet says
	DemoldS      float64     `json:"demold_s"`              // from pouring to demolding, as the data sheet says
	RestS        float64     `json:"rest_s"`                // from demolding to hot metal
	RoomC        float64     `json:"room_c"`                // where the rubber cures
	RoomFactor   float64     `json:"room_factor"`           // on pot life and demolding there: doubling per 10 K below 23 °C, an estimate
	PotLifeRoomS float64     `json:"pot_life_room_s"`       // pot life in this room
	DemoldRoomS  float64     `json:"demold_room_s"`         // demolding in this room
	Start        string      `json:"start,omitempty"`       // of the first mix, "2026-11-27 18:30" or "18:30"; left out when the job does not say
	Events       []EventPlan `json:"events"`                // in the order of work
	PostCureS    float64     `json:"post_cure_s,omitempty"` // how long it is kept warm after demolding; left out without
	PostCureC    float64     `json:"post_cure_c,omitempty"` // how warm
}

// EventPlan is one point of the schedule. Codes: mix, mixed_by, pour_by,
// second_half (out of the same mix) or second_mix, second_mixed_by and
// second_pour_by, demold, rest_over, post_cure, post_cure_over, first_casting.
type EventPlan struct {
	Code     string  `json:"code"`         // short and stable
	AfterS   float64 `json:"after_s"`      // from the start of the first mix
	Deadline bool    `json:"deadline"`     // no later than; else no sooner than
	At       string  `json:"at,omitempty"` // on the clock, to the minute; left out without a start
}

// planTimes makes the schedule.
func planTimes(t EveningTable, r Rubber, oneMix bool) TimesPlan {
	b := newBench(t, r)
	p := TimesPlan{PotLifeS: r.PotLife, DemoldS: r.Demold, RestS: r.Rest, RoomC: float64(t.Room), RoomFactor: RoomFactor(float64(t.Room)),
		PotLifeRoomS: b.potLife, DemoldRoomS: b.demold}
	if t.PostCure > 0 {
		p.PostCureS, p.PostCureC = float64(t.PostCure), float64(t.PostCureAt)
	}
	if t.Start != nil {
		p.Start = t.Start.String()
	}
	for _, e := range b.schedule(oneMix) {
		plan := EventPlan{Code: e.code, AfterS: e.after, Deadline: e.deadline}
		if t.Start != nil {
			at := t.Start.After(e.after, e.deadline)
			plan.At = at.String()
		}
		p.Events = append(p.Events, plan)
	}
	return p
}

// When says on the clock when an event is, such as "18:43", "next day 18:51" or
// "Sat 28 Nov 18:51"; "" without a start or such an event.
func (t TimesPlan) When(code string) string {
	for _, e := range t.Events {
		if e.Code == code {
			return t.Clock(e, "")
		}
	}
	return ""
}

// Clock is an event's time as one says it: without the day on the first day.
// Without a clock it is what is given instead.
func (t TimesPlan) Clock(e EventPlan, without string) string {
	if e.At == "" {
		return without
	}
	start, errStart := ParseMoment(t.Start)
	at, err := ParseMoment(e.At)
	switch {
	case errStart != nil:
		return e.At
	case !start.day:
		return start.After(e.AfterS, e.Deadline).Spoken()
	case err == nil && at.at.Truncate(24*time.Hour).Equal(start.at.Truncate(24*time.Hour)):
		return at.at.Format("15:04")
	case err == nil:
		return at.Spoken()
	}
	return e.At
}
