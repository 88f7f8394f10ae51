package main

import (
	"fmt"
	"strings"
	"sync"
	"time"
)

// progress is one line on a terminal that is drawn over and over. It appears
// when a command has run for a second, and never on a stream that is no
// terminal. It is safe for concurrent use; the zero value says nothing.
type progress struct {
	t     *terminal
	since time.Time
	stop  chan struct{}
	idle  sync.WaitGroup

	mu    sync.Mutex
	parts []progressPart
	line  string // on the screen
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
)

// newProgress starts to draw; the caller must call clear.
func newProgress(t *terminal) *progress {
	if t.errWidth == 0 || t.quiet || t.json {
		return &progress{}
	}
	p := &progress{t: t, since: time.Now(), stop: make(chan struct{})}
	p.idle.Add(1)
	go p.keepDrawing()
	return p
}

func (p *progress) keepDrawing() {
	defer p.idle.Done()
	tick := time.NewTicker(progressEvery)
	defer tick.Stop()
	for {
		select {
		case <-p.stop:
			return
		case now := <-tick.C:
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

// draw writes the line over the last one.
func (p *progress) draw(spent time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	line := progressLine(p.parts, spent)
	if len(line) >= p.t.errWidth {
		line = line[:p.t.errWidth-1]
	}
	if line != p.line {
		fmt.Fprintf(p.t.err, "\r%-*s", len(p.line), line)
		p.line = line
	}
}

// progressLine is a bar, the percentage, the seconds spent and what the least
// advanced job is doing.
func progressLine(parts []progressPart, spent time.Duration) string {
	total, stage, least := 0.0, "", 1.0
	for _, part := range parts {
		total += part.share * part.done
		if part.done < least && part.stage != "" {
			least, stage = part.done, part.stage
		}
	}
	const bar = 24
	full := max(0, min(bar, int(total*bar+0.5)))
	return fmt.Sprintf("[%s%s] %3.0f %%  %2.0f s  %s", strings.Repeat("=", full), strings.Repeat(" ", bar-full),
		100*total, spent.Seconds(), stage)
}

// clear stops drawing and wipes the line off the screen.
func (p *progress) clear() {
	if p.t == nil {
		return
	}
	close(p.stop)
	p.idle.Wait()
	if p.line != "" {
		fmt.Fprintf(p.t.err, "\r%*s\r", len(p.line), "")
	}
}
