package pourplan

import (
	"strings"
	"testing"
)

func TestParseMoment(t *testing.T) {
	for text, want := range map[string]string{
		"2026-11-27 18:30": "Fri 27 Nov 18:30", "2026-11-27T18:30": "Fri 27 Nov 18:30", " 2026-11-27  6:30 PM ": "Fri 27 Nov 18:30",
		"18:30": "18:30", "6:30 pm": "18:30", "12:05 AM": "00:05", "9 pm": "21:00", "2028-02-29 00:00:30": "Tue 29 Feb 00:00",
	} {
		m, err := ParseMoment(text)
		if err != nil || m.Spoken() != want {
			t.Errorf("%q: got %q, %v, want %q", text, m.Spoken(), err, want)
		}
	}
	for _, text := range []string{"", "tonight", "2026-11-27", "2026-02-30 18:30", "25:00", "18.30", "27/11/2026 18:30"} {
		if m, err := ParseMoment(text); err == nil || !strings.Contains(err.Error(), `"18:30"`) {
			t.Errorf("%q: got %v, %v", text, m, err)
		}
	}
}

// Counted on a calendar by hand.
func TestMomentAfter(t *testing.T) {
	for _, c := range []struct {
		from     string
		after    float64
		deadline bool
		want     string
	}{
		{"2026-11-27 18:30", 24 * hour, false, "2026-11-28 18:30"},
		{"2026-11-27 18:30", 5*day + 30*minute, false, "2026-12-02 19:00"},
		{"2026-12-31 23:30", hour, false, "2027-01-01 00:30"},
		{"2028-02-28 12:00", 2 * day, false, "2028-03-01 12:00"}, // a leap year
		{"18:30", 90, true, "18:31"},
		{"18:30", 90, false, "18:32"},
		{"18:30", 6 * hour, false, "00:30 +1 d"},
		{"18:30", 400 * day, false, "18:30 +400 d"},
	} {
		m, err := ParseMoment(c.from)
		if err != nil {
			t.Fatal(err)
		}
		if got := m.After(c.after, c.deadline).String(); got != c.want {
			t.Errorf("%s after %g s: got %q, want %q", c.from, c.after, got, c.want)
		}
	}
}

// TOML has dates and times of its own.
func TestMomentOfTOML(t *testing.T) {
	for text, want := range map[string]string{
		`start = 2026-11-27T18:30:00`: "2026-11-27 18:30", `start = 18:30:00`: "18:30", `start = "18:30"`: "18:30",
		`start = 2026-11-27T18:30:00+09:00`: "2026-11-27 18:30",
	} {
		if got := read(t, shortJob+"[evening]\n"+text+"\n").Evening.Start.String(); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
	for _, text := range []string{"start = 1830", "start = 2026-11-27", "start = true"} {
		if _, err := ReadJob("job.toml", []byte(shortJob+"[evening]\n"+text+"\n")); err == nil {
			t.Errorf("%s is taken", text)
		}
	}
}

func TestMomentSpoken(t *testing.T) {
	start, _ := ParseMoment("18:30")
	for after, want := range map[float64]string{0: "18:30", 24 * hour: "next day 18:30", 6*day + 60: "18:31, 6 days later"} {
		if got := start.After(after, false).Spoken(); got != want {
			t.Errorf("%g s on: got %q, want %q", after, got, want)
		}
	}
}

// Whatever the text: a moment that reads back from what it says, or an error.
func FuzzParseMoment(f *testing.F) {
	for _, s := range []string{"18:30", "2026-11-27 18:30", "6:30 pm", "0000-01-01 00:00", "9999-12-31T23:59:59", "24:00", "12 am", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := ParseMoment(text)
		if err != nil {
			return
		}
		m = m.After(0, true)
		back, err := ParseMoment(m.String())
		if err != nil || back != m {
			t.Errorf("%q reads as %s, which reads as %s, %v", text, m, back, err)
		}
		if m.Spoken() == "" {
			t.Errorf("%q has no words", text)
		}
	})
}
