package pourplan

import (
	"fmt"
	"strings"
	"time"
)

// Moment is a time on the wall clock, of a stated day or of any. Clocks that
// are put forward or back in between are not thought of.
type Moment struct {
	at  time.Time // UTC stands for the local clock
	day bool      // at's date is meant
}

var (
	momentDays   = []string{"2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02T15:04:05", "2006-01-02 3:04 PM"}
	momentClocks = []string{"15:04", "15:04:05", "3:04 PM", "3 PM"}
)

// ParseMoment reads "2026-11-27 18:30", "18:30" or "6:30 pm".
func ParseMoment(s string) (Moment, error) {
	text := strings.ToUpper(strings.Join(strings.Fields(s), " "))
	for _, layout := range momentDays {
		if t, err := time.Parse(layout, text); err == nil {
			return Moment{t, true}, nil
		}
	}
	for _, layout := range momentClocks {
		if t, err := time.Parse(layout, text); err == nil {
			return Moment{t, false}, nil
		}
	}
	return Moment{}, fmt.Errorf(`want a day and time such as "2026-11-27 18:30", or a time such as "18:30", got %q`, s)
}

// UnmarshalTOML reads a moment from text, or from TOML's own dates and times.
func (m *Moment) UnmarshalTOML(v any) error {
	text, ok := v.(string)
	if t, isTime := v.(time.Time); isTime {
		// A date alone comes as its midnight; it says no time to begin.
		switch t.Location().String() {
		case "time-local":
			text, ok = t.Format("15:04:05"), true
		case "date-local":
			text, ok = t.Format("2006-01-02"), true
		default:
			text, ok = t.Format("2006-01-02 15:04:05"), true
		}
	}
	if !ok {
		return fmt.Errorf(`want a day and time such as "2026-11-27 18:30", got %s`, quoted(v))
	}
	got, err := ParseMoment(text)
	if err == nil {
		*m = got
	}
	return err
}

// After returns the moment s seconds later, to the minute: up, or down for a
// deadline.
func (m Moment) After(s float64, deadline bool) Moment {
	m.at = m.at.Add(time.Duration(s * float64(time.Second)))
	whole := m.at.Truncate(time.Minute)
	if !deadline && whole.Before(m.at) {
		whole = whole.Add(time.Minute)
	}
	m.at = whole
	return m
}

// String reads "2026-11-27 18:30"; without a day "18:30", or "18:30 +2 d" on
// the second day after.
func (m Moment) String() string {
	if m.day {
		return m.at.Format("2006-01-02 15:04")
	}
	text := m.at.Format("15:04")
	if n := m.daysOn(); n > 0 {
		text += fmt.Sprintf(" +%d d", n)
	}
	return text
}

// Spoken reads "Fri 27 Nov 18:30" where a day is known; without one "18:30",
// "next day 18:30" or "18:30, 5 days later".
func (m Moment) Spoken() string {
	clock := m.at.Format("15:04")
	switch n := m.daysOn(); {
	case m.day:
		return m.at.Format("Mon 2 Jan 15:04")
	case n == 0:
		return clock
	case n == 1:
		return "next day " + clock
	default:
		return fmt.Sprintf("%s, %d days later", clock, n)
	}
}

// daysOn counts midnights since the moment that a time without a day began as.
func (m Moment) daysOn() int {
	firstDay := time.Date(0, 1, 1, 0, 0, 0, 0, time.UTC) // which times without a date are read as
	return int(m.at.Sub(firstDay) / (24 * time.Hour))
}
