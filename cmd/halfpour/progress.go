package main

import (
	"fmt"
	"strings"
	"sync"
	"time"
	"unicode/utf8"
)

// progress tells on a terminal how far a command is: one line that is drawn
// over and over, or plain lines where the terminal cannot do that (TERM=dumb).
// It begins when a command has run for a second, and says nothing on a stream
// that is no terminal. It is safe for concurrent use; the zero value says
// nothing.
type progress struct {
	t     *terminal
	since time.Time
	stop  chan struct{}
	idle  sync.WaitGroup
	end   sync.Once

	mu    sync.Mutex
	parts []progressPart
	left  remaining
	stage string        // that was told last
	line  string        // on the screen
	last  time.Duration // when a plain line was written
	told  string        // the stage in it
}

// progressPart is one of several jobs that run at once.
type progressPart struct {
	stage string
	done  float64 // 0 to 1
	share float64 // of the whole
}

const (
	progressAfter = time.Second
	progressEvery = 150 * time.Millisecond
	plainEvery    = 3 * time.Second // at most, of plain lines
)

// newProgress starts to draw; the caller must call clear.
func newProgress(t *terminal) *progress {
	tick := time.NewTicker(progressEvery)
	p := startProgress(t, time.Now(), tick.C)
	if p.t == nil {
		tick.Stop()
	} else {
		p.idle.Add(1)
		go func() { defer p.idle.Done(); <-p.stop; tick.Stop() }()
	}
	return p
}

// startProgress draws at every tick; a tick is the time of a clock.
func startProgress(t *terminal, now time.Time, ticks <-chan time.Time) *progress {
	if t.errWidth == 0 || t.quiet || t.json {
		return &progress{}
	}
	p := &progress{t: t, since: now, stop: make(chan struct{})}
	p.idle.Add(1)
	go p.keepDrawing(ticks)
	return p
}

func (p *progress) keepDrawing(ticks <-chan time.Time) {
	defer p.idle.Done()
	for {
		select {
		case <-p.stop:
			return
		case now := <-ticks:
			if spent := now.Sub(p.since); spent >= progressAfter {
				p.draw(spent)
			}
		}
	}
}

// part adds a job that is a share of the whole, and returns how it reports.
func (p *progress) part(share float64) func(stage string, done float64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	i := len(p.parts)
	p.parts = append(p.parts, progressPart{share: share})
	return func(stage string, done float64) {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.parts[i].stage, p.parts[i].done = stage, done
	}
}

// draw writes the line over the last one, or a plain line now and then.
func (p *progress) draw(spent time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	total, stage := standing(p.parts)
	if stage == "" {
		stage = p.stage // between two parts
	}
	p.stage = stage
	left := p.left.at(total, spent)
	if p.t.errDumb {
		if stage != p.told && spent-p.last >= plainEvery {
			printLine(p.t.err, "halfpour: %3.0f %%, %s: %s", 100*total, timeText(left, spent), stage)
			p.last, p.told = spent, stage
		}
		return
	}
	line := clipped(string(progressLine(total, left, spent, stage)), p.t.errWidth-1)
	if line != p.line {
		pad := max(0, utf8.RuneCountInString(p.line)-utf8.RuneCountInString(line))
		fmt.Fprintf(p.t.err, "\r%s%s", line, strings.Repeat(" ", pad))
		p.line = line
	}
}

// standing is how much of the whole is done, and what the least advanced job
// is doing.
func standing(parts []progressPart) (total float64, stage string) {
	least := 1.0
	for _, part := range parts {
		total += part.share * part.done
		if part.done < least && part.stage != "" {
			least, stage = part.done, part.stage
		}
	}
	return total, stage
}

// progressLine is a bar, the percentage, the time left or spent, and what is
// being done.
func progressLine(total float64, left, spent time.Duration, stage string) printable {
	const bar = 24
	full := max(0, min(bar, int(total*bar+0.5)))
	return text("[%s%s] %3.0f %%  %s  %s", strings.Repeat("=", full), strings.Repeat(" ", bar-full),
		100*total, timeText(left, spent), stage)
}

// clipped cuts a line to so many columns.
func clipped(line string, columns int) string {
	if runes := []rune(line); len(runes) > columns {
		return string(runes[:max(0, columns)])
	}
	return line
}

// clear stops drawing and wipes the line off the screen, once.
func (p *progress) clear() {
	if p.t == nil {
		return
	}
	p.end.Do(func() {
		close(p.stop)
		p.idle.Wait()
		if p.line != "" {
			fmt.Fprintf(p.t.err, "\r%*s\r", utf8.RuneCountInString(p.line), "")
		}
	})
}
