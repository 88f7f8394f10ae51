package main

import (
	"math"
	"strings"
	"sync"
	"testing"
	"time"
)

// screen is a stream that a test reads while progress writes to it.
type screen struct {
	mu   sync.Mutex
	text strings.Builder
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// at lets the clock of a progress tick at so many seconds, and waits until that
// is drawn.
func at(ticks chan time.Time, seconds float64) {
	now := time.Unix(0, 0).Add(time.Duration(seconds * float64(time.Second)))
	ticks <- now
	ticks <- time.Unix(0, 0) // is before a second is spent and draws nothing; taken when the first is done with
}

// Jobs that run at once add up; the one that is behind is told of.
func TestStanding(t *testing.T) {
	total, stage := standing([]progressPart{{"drawing", 0.5, 0.5}, {"splitting", 0.25, 0.5}})
	if total != 0.375 || stage != "splitting" {
		t.Errorf("got %g, %q", total, stage)
	}
}

func TestProgressIsDrawnOver(t *testing.T) {
	out, ticks := &screen{}, make(chan time.Time)
	p := startProgress(&terminal{err: out, errWidth: 80}, time.Unix(0, 0), ticks)
	report := p.part(1)
	report("splitting space", 0.1)
	at(ticks, 0.9)
	if out.String() != "" {
		t.Errorf("before a second: %q", out)
	}
	at(ticks, 1.5)
	at(ticks, 3)
	report("sampling the surface", 0.75)
	at(ticks, 30)
	want := "\r[==                      ]  10 %  about 15 s left  splitting space" +
		"\r[==================      ]  75 %  about 10 s left  sampling the surface"
	if got := out.String(); got != want {
		t.Errorf("got\n%q, want\n%q", got, want)
	}
	p.clear()
	if got := strings.TrimPrefix(out.String(), want); strings.ReplaceAll(got, " ", "") != "\r\r" || len(got) != len(want[strings.LastIndex(want, "\r"):])+1 {
		t.Errorf("cleared with %q", got)
	}
	cleared := out.String()
	p.clear() // as the end of a command does, whatever it came to
	if out.String() != cleared {
		t.Errorf("cleared twice: %q", strings.TrimPrefix(out.String(), cleared))
	}
}

func TestProgressKeepsToTheWidth(t *testing.T) {
	out, ticks := &screen{}, make(chan time.Time)
	p := startProgress(&terminal{err: out, errWidth: 40}, time.Unix(0, 0), ticks)
	p.part(1)("größe µ: sampling the surface of everything", 0.5)
	at(ticks, 10)
	p.clear()
	for _, line := range strings.Split(out.String(), "\r") {
		if n := len([]rune(line)); n > 39 {
			t.Errorf("%d columns: %q", n, line)
		}
	}
}

// Where a line cannot be drawn over there is a line a stage, not too many.
func TestProgressInPlainLines(t *testing.T) {
	out, ticks := &screen{}, make(chan time.Time)
	p := startProgress(&terminal{err: out, errWidth: 80, errDumb: true}, time.Unix(0, 0), ticks)
	report := p.part(1)
	report("reading", 0)
	at(ticks, 1.5)
	at(ticks, 4)
	report("measuring", 0.1)
	at(ticks, 5)
	at(ticks, 8)
	at(ticks, 20)
	report("writing", 0.9)
	at(ticks, 45)
	p.clear()
	want := "halfpour:   0 %,  4 s: reading\nhalfpour:  10 %, about 45 s left: measuring\nhalfpour:  90 %, about 5 s left: writing\n"
	if got := out.String(); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestProgressIsQuiet(t *testing.T) {
	for name, on := range map[string]*terminal{
		"piped": {}, "with --quiet": {errWidth: 80, quiet: true}, "with --json": {errWidth: 80, json: true},
	} {
		out := &screen{}
		on.err = out
		p := startProgress(on, time.Unix(0, 0), nil)
		p.part(1)("reading", 0.5)
		p.clear()
		if out.String() != "" || p.t != nil {
			t.Errorf("%s it says %q", name, out)
		}
	}
}

// At an even pace the time left is true from the first on; when the pace
// changes to half, it is true again to a tenth within some seconds.
func TestRemainingTime(t *testing.T) {
	var r remaining
	for s := 0.0; s < 60; s += 0.15 {
		left := r.at(s/60, time.Duration(s*float64(time.Second)))
		if s < 3.5 {
			continue
		}
		if off := math.Abs(left.Seconds() - (60 - s)); off > 0.2 {
			t.Fatalf("after %g s: %v left, want %g s", s, left, 60-s)
		}
	}
	r = remaining{}
	for s := 0.0; s < 100; s += 0.15 {
		done := s / 60
		if s > 20 { // two thirds are left and take 80 s
			done = 1.0/3 + (s-20)/120
		}
		left := r.at(done, time.Duration(s*float64(time.Second)))
		// What is foretold is what the pace so far makes of it.
		if pace := s * (1 - done) / math.Max(done, 1e-9); s > 30 && math.Abs(left.Seconds()-pace) > 0.15*pace+1 {
			t.Fatalf("after %g s: %v left, the pace says %g s", s, left, pace)
		}
	}
	if left := new(remaining).at(0.01, time.Minute); left != 0 {
		t.Errorf("with hardly anything done %v are foretold", left)
	}
}

func TestTimeText(t *testing.T) {
	for _, c := range []struct {
		left time.Duration
		want string
	}{
		{0, " 7 s"}, {300 * time.Millisecond, "about 1 s left"}, {9100 * time.Millisecond, "about 10 s left"},
		{11 * time.Second, "about 15 s left"}, {61 * time.Second, "about 1.5 min left"}, {601 * time.Second, "about 11 min left"},
	} {
		if got := timeText(c.left, 7*time.Second); got != c.want {
			t.Errorf("%v: got %q, want %q", c.left, got, c.want)
		}
	}
}
