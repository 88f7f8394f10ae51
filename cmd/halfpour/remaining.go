package main

import (
	"fmt"
	"math"
	"time"
)

// remaining judges the time that is left by the share that is done: the steps
// of a command have shares that were measured, so that all go at about one pace.
// The zero value is ready.
type remaining struct {
	done  float64       // at the last step
	since time.Duration // when that was
	whole float64       // s, that all takes as far as is known; 0 when nothing is
}

const (
	// Before so much is done or spent nothing is foretold.
	leastDone  = 0.05
	leastSpent = time.Second
	// A new judgement takes over from the old one within such a share of the
	// whole, so that the figure does not jump with every step.
	takesOver = 0.05
	// However late a step is, no less is left than this share of what it and
	// the steps to come take.
	leastLeft = 0.5
)

// at is the time left when a share of all is done after so long; 0 when it
// cannot be told. How far a step is is known only when it ends: meanwhile the
// clock runs down.
func (r *remaining) at(done float64, spent time.Duration) time.Duration {
	if done != r.done {
		now := spent.Seconds() / done
		if r.whole == 0 || r.done < leastDone {
			r.whole = now
		} else {
			r.whole += (now - r.whole) * (1 - math.Exp((r.since-spent).Seconds()/(takesOver*r.whole)))
		}
		r.done, r.since = done, spent
	}
	if done < leastDone || done >= 1 || spent < leastSpent {
		return 0
	}
	left := math.Max(r.whole-spent.Seconds(), leastLeft*(1-done)*r.whole)
	return time.Duration(left * float64(time.Second))
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
