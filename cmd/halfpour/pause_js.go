package main

import (
	"sync"
	"syscall/js"
	"time"
)

// The engine has one thread, and the browser brings questions to it, and takes
// answers, only while nothing else runs. So all that takes long stops now and then
// until what has come meanwhile is done.

// pauseEvery is how long the browser waits at most where there are pauses, but
// for a single job of a loop.
const pauseEvery = 40 * time.Millisecond

type pauser struct {
	mu   sync.Mutex // held while pausing: others stop too
	last time.Time
	port js.Value // a message through it comes after those that wait
	back chan struct{}
}

func newPauser() *pauser {
	channel := js.Global().Get("MessageChannel").New()
	p := &pauser{last: time.Now(), port: channel.Get("port2"), back: make(chan struct{}, 1)}
	channel.Get("port1").Set("onmessage", js.FuncOf(func(js.Value, []js.Value) any { p.back <- struct{}{}; return nil }))
	return p
}

func (p *pauser) pause() {
	if time.Since(p.last) < pauseEvery {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if time.Since(p.last) < pauseEvery {
		return
	}
	p.port.Call("postMessage", 0)
	<-p.back
	p.last = time.Now()
}
