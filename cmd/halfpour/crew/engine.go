package crew

import (
	"context"
	"sync"
)

// Message is what one engine tells the other of a piece.
type Message struct {
	Kind Kind
	Name string // of the piece
	Data []byte // what a piece has come to
}

// Kind says what a Message is about.
type Kind string

// The kinds of messages.
const (
	Claim   Kind = "claim"   // the helper would do it
	Granted Kind = "granted" // the helper is to do it
	Taken   Kind = "taken"   // the leader does it
	Made    Kind = "made"    // it is done
	Failed  Kind = "failed"  // the other is to do it
)

// Engine is one of the two, a parallel.Sharer. It is safe for concurrent use.
type Engine struct {
	leads   bool
	send    func(Message)
	working chan struct{} // one piece at a time: there is one thread

	mu     sync.Mutex
	alone  bool
	pieces map[string]*piece
}

type piece struct {
	at   place
	made bool // there
	data []byte
	news chan struct{} // closed at the next change
}

// place is where a piece is done.
type place int

const (
	nowhere place = iota
	here
	there
)

// NewEngine is the leader or its helper. send takes a message to the other; Take must
// be called for what that sends, in order.
func NewEngine(leads bool, send func(Message)) *Engine {
	return &Engine{leads: leads, send: send, working: make(chan struct{}, 1), pieces: map[string]*piece{}}
}

// Piece does a piece here or waits for it, as parallel.Sharer.
func (e *Engine) Piece(ctx context.Context, name string, do func() error, pack func() ([]byte, error)) ([]byte, error) {
	for {
		p := e.look(name)
		switch {
		case p.made:
			e.forget(name)
			return p.data, nil
		case p.at == there:
			select {
			case <-p.news:
			case <-ctx.Done():
				return nil, ctx.Err()
			}
			continue
		}
		select {
		case e.working <- struct{}{}:
		case <-p.news:
			continue
		case <-ctx.Done():
			return nil, ctx.Err()
		}
		mine, err := e.claim(ctx, name)
		if mine {
			err = e.make(name, do, pack)
		}
		<-e.working
		if mine || err != nil {
			return nil, err
		}
	}
}

// make does a piece and tells the other.
func (e *Engine) make(name string, do func() error, pack func() ([]byte, error)) error {
	err := do()
	if e.isAlone() {
		return err
	}
	m := Message{Kind: Failed, Name: name}
	if err == nil {
		if data, fault := pack(); fault == nil {
			m.Kind, m.Data = Made, data
		}
	}
	e.send(m)
	return err
}

// claim reports whether a piece is to be done here.
func (e *Engine) claim(ctx context.Context, name string) (bool, error) {
	for asked := false; ; {
		e.mu.Lock()
		p := e.piece(name)
		if p.at == nowhere && (e.leads || e.alone) {
			p.at = here
		}
		now := *p
		e.mu.Unlock()
		if now.made || now.at != nowhere {
			return !now.made && now.at == here, nil
		}
		if !asked {
			e.send(Message{Kind: Claim, Name: name})
			asked = true
		}
		select {
		case <-now.news:
		case <-ctx.Done():
			return false, ctx.Err()
		}
	}
}

// Take takes a message of the other engine.
func (e *Engine) Take(m Message) {
	e.mu.Lock()
	defer e.mu.Unlock()
	p := e.piece(m.Name)
	switch m.Kind {
	case Claim:
		answer := Taken
		if p.at == nowhere {
			p.at, answer = there, Granted
		}
		e.send(Message{Kind: answer, Name: m.Name})
	case Granted, Failed:
		p.at = here
	case Taken:
		if !p.made && p.at == nowhere {
			p.at = there
		}
	case Made:
		p.made, p.data, p.at = true, m.Data, there
	}
	p.tell()
}

// Alone says that there is no other engine any more.
func (e *Engine) Alone() {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.alone = true
	for _, p := range e.pieces {
		if p.at == there && !p.made {
			p.at = here
		}
		p.tell()
	}
}

func (p *piece) tell() {
	close(p.news)
	p.news = make(chan struct{})
}

func (e *Engine) isAlone() bool {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.alone
}

// look is how a piece stands.
func (e *Engine) look(name string) piece {
	e.mu.Lock()
	defer e.mu.Unlock()
	return *e.piece(name)
}

// forget lets go of what a piece has come to.
func (e *Engine) forget(name string) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.piece(name).data = nil
}

func (e *Engine) piece(name string) *piece {
	p := e.pieces[name]
	if p == nil {
		p = &piece{news: make(chan struct{})}
		e.pieces[name] = p
	}
	return p
}
