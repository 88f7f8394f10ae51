package live

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// Kind is what an event is about. Figures and Model say that a document has
// changed; the others say how things are, and a page hears the last of them
// when it comes.
type Kind string

// The kinds of events.
const (
	Busy    Kind = "busy"    // what is being done
	Status  Kind = "status"  // what was done last, with nothing going on
	Trouble Kind = "trouble" // JSON text of what is wrong; empty when nothing is
	Figures Kind = "figures"
	Model   Kind = "model"
	Form    Kind = "form"  // of a job that is changed on the page
	Lying   Kind = "lying" // how the heads of the job lie
	Built   Kind = "built" // JSON text: how a build that the page asked for goes
)

// slot is where the last event is kept: being busy ends being idle.
func (k Kind) slot() Kind {
	if k == Busy {
		return Status
	}
	return k
}

func (k Kind) isChange() bool { return k == Figures || k == Model || k == Form || k == Lying }

// events are what open pages are told, as server-sent events (HTML Living
// Standard, section 9.2). Each has a number; a page says which it has seen.
type events struct {
	mu     sync.Mutex
	number int
	latest map[Kind]event // by slot
	news   chan struct{}  // closed when there is one more
	pages  atomic.Int32   // that listen
}

type event struct {
	number int
	kind   Kind
	text   string
}

func newEvents() *events {
	return &events{latest: map[Kind]event{}, news: make(chan struct{})}
}

func (e *events) tell(kind Kind, text string) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.number++
	e.latest[kind.slot()] = event{e.number, kind, strings.NewReplacer("\n", " ", "\r", " ").Replace(text)}
	close(e.news)
	e.news = make(chan struct{})
}

func (e *events) last() int {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.number
}

// after lists in their order the changes behind one number and the states
// behind another, and what is closed when there are more.
func (e *events) after(changes, states int) ([]event, <-chan struct{}) {
	e.mu.Lock()
	defer e.mu.Unlock()
	var list []event
	for _, v := range e.latest {
		if after := map[bool]int{true: changes, false: states}[v.kind.isChange()]; v.number > after {
			list = append(list, v)
		}
	}
	slices.SortFunc(list, func(a, b event) int { return cmp.Compare(a.number, b.number) })
	return list, e.news
}
