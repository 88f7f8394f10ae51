package main

import (
	"fmt"
	"math"
	"time"
)

// remaining judges the time that is left by the share that is done: the parts
// of a command have shares that were measured, so that all go at one pace. The
// zero value is ready.
type remaining struct {
	seconds float64 // at the time of the last look; 0 when nothing is known yet
	last    time.Duration
}

const (
	// Before so much is done or spent nothing is foretold.
	leastDone  = 0.05
	leastSpent = 2 * time.Second
	// A new judgement takes over from the old one within some seconds, so that
	// the figure does not jump with every part that goes faster or slower.
	takesOver = 4.0 // s
)

// at is the time left when a share of all is done after so long; 0 when it
// cannot be told.
func (r *remaining) at(done float64, spent time.Duration) time.Duration {
	step := (spent - r.last).Seconds()
	r.last = spent
	if done < leastDone || done >= 1 || spent < leastSpent {
		return 0
	}
	now := spent.Seconds() * (1 - done) / done
	if r.seconds == 0 {
		r.seconds = now
	} else {
		old := math.Max(r.seconds-step, 0)
		r.seconds = now + (old-now)*math.Exp(-step/takesOver)
	}
	return time.Duration(r.seconds * float64(time.Second))
}

// timeText says the time left in round figures, never too little by rounding;
// or, when it is not known, the time spent.
func timeText(left, spent time.Duration) string {
	s := left.Seconds()
	switch {
	case left <= 0:
		return fmt.Sprintf("%2.0f s", spent.Seconds())
	case s <= 10:
		return fmt.Sprintf("about %.0f s left", math.Max(1, math.Ceil(s)))
	case s <= 60:
		return fmt.Sprintf("about %.0f s left", 5*math.Ceil(s/5))
	case s <= 600:
		return fmt.Sprintf("about %s min left", fmt.Sprint(math.Ceil(s/30)/2))
	}
	return fmt.Sprintf("about %.0f min left", math.Ceil(s/60))
}
