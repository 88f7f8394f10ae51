package crew

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"halfpour/geom/parallel"
)

// pair is two engines joined by queues. The helper dies when it sends what ends it.
type pair struct {
	leader, helper *Engine
	toHelper       chan Message
	toLeader       chan Message
}

func newPair(t *testing.T, ends func(Message) bool) *pair {
	p := &pair{toHelper: make(chan Message, 100), toLeader: make(chan Message, 100)}
	p.leader = NewEngine(true, func(m Message) { p.toHelper <- m })
	p.helper = NewEngine(false, func(m Message) { p.toLeader <- m })
	ctx, stop := context.WithCancel(t.Context())
	t.Cleanup(stop)
	go func() {
		for {
			select {
			case m := <-p.toLeader:
				if ends(m) {
					p.leader.Alone()
					return
				}
				p.leader.Take(m)
			case <-ctx.Done():
				return
			}
		}
	}()
	go func() {
		for {
			select {
			case m := <-p.toHelper:
				p.helper.Take(m)
			case <-ctx.Done():
				return
			}
		}
	}()
	return p
}

// work does pieces of two rounds, each from those before, and says who did which.
func work(ctx context.Context, e *Engine, does func(name string) error) (sum float64, err error) {
	ctx = parallel.WithSharer(ctx, e)
	for round := range 2 {
		parts := make([]float64, 6)
		errs := make([]error, len(parts))
		err = parallel.For(ctx, len(parts), parallel.Pieces(ctx, len(parts)), func(i int) {
			name := fmt.Sprint(round, i)
			parts[i], errs[i] = parallel.Share(ctx, name, func() (float64, error) { return sum + float64(i), does(name) })
		})
		if err = errors.Join(append(errs, err)...); err != nil {
			return 0, err
		}
		for _, part := range parts {
			sum += part
		}
	}
	return sum, nil
}

const workSum = 15 + 6*15 + 15

func never(Message) bool { return false }

// both has a leader and a helper do the work, and returns who
// did what.
func both(t *testing.T, p *pair, helperDoes func(string) error) (leaders, helpers []string) {
	t.Helper()
	var mu sync.Mutex
	ctx, stop := context.WithTimeout(t.Context(), 20*time.Second)
	helped := make(chan struct{})
	go func() {
		defer close(helped)
		_, _ = work(ctx, p.helper, func(name string) error {
			mu.Lock()
			helpers = append(helpers, name)
			mu.Unlock()
			time.Sleep(time.Millisecond)
			return helperDoes(name)
		})
	}()
	sum, err := work(ctx, p.leader, func(name string) error {
		leaders = append(leaders, name)
		time.Sleep(2 * time.Millisecond)
		return nil
	})
	stop()
	<-helped
	if err != nil || sum != workSum {
		t.Errorf("%v, %v, want %v", sum, err, workSum)
	}
	return leaders, helpers
}

// Each piece is done once, by whoever is free, and both have what it came to.
func TestPiecesAreDoneOnce(t *testing.T) {
	leaders, helpers := both(t, newPair(t, never), func(string) error { return nil })
	all := slices.Sorted(slices.Values(slices.Concat(leaders, helpers)))
	if len(all) != 12 || len(slices.Compact(all)) != 12 || len(leaders) == 0 || len(helpers) == 0 {
		t.Errorf("the leader did %v, the helper %v", leaders, helpers)
	}
}

// Whatever message a helper ends at, and whatever piece it fails at, the leader comes
// to the same.
func TestHelperGone(t *testing.T) {
	for at := range 14 {
		n := 0
		both(t, newPair(t, func(Message) bool { n++; return n > at }), func(string) error { return nil })
	}
	fault := errors.New("no memory left")
	_, helpers := both(t, newPair(t, never), func(string) error { return fault })
	if len(helpers) == 0 {
		t.Error("the helper did nothing")
	}
}

// A leader that waits for a helper is stopped.
func TestStopWhileWaiting(t *testing.T) {
	e := NewEngine(true, func(Message) {})
	e.Take(Message{Kind: Claim, Name: "a"})
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := e.Piece(ctx, "a", func() error { return nil }, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
