package making

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
)

// Heads reads the head of a file that a job names. It may be called from several
// goroutines at once.
type Heads func(ctx context.Context, file string) (*head.Head, error)

// shelf keeps heads by their names in the job. It is safe for concurrent use.
type shelf struct {
	read Heads

	mu    sync.Mutex
	heads map[string]*shelved
	last  map[string]*shelved // of the last run

	thinning sync.Mutex
	thinned  map[thinned]geom.Solid // for a look; nil where a mesh cannot be thinned
}

// shelved is one head, read once and looked at once.
type shelved struct {
	reading, looking sync.Mutex

	mu    sync.Mutex
	wires map[float64]*moldbox.WireBody // of the file, by mm per unit
	hooks map[float64]*moldbox.HookBody // of the file, by mm per unit
	plain *head.Head                    // as it was read; nil until then
	known *head.Head                    // the same, or as it is taken when it cuts through itself; nil until looked at
	bored []*boredHead                  // of this run
	older []*boredHead                  // of the last run
}

func (s *shelf) at(file string) *shelved {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.heads[file] == nil {
		s.heads[file] = &shelved{}
	}
	return s.heads[file]
}

// get reads a head, unless that has been done.
func (s *shelf) get(ctx context.Context, file string) (*head.Head, error) {
	e := s.at(file)
	e.reading.Lock()
	defer e.reading.Unlock()
	if h := e.best(); h != nil {
		return h, nil
	}
	h, err := s.read(ctx, file)
	if err != nil {
		return nil, err
	}
	var known *head.Head
	var older []*boredHead
	hooks, wires := map[float64]*moldbox.HookBody{}, map[float64]*moldbox.WireBody{}
	if last := s.last[file]; last != nil && last.plain == h {
		known, hooks, wires, older = last.known, last.hooks, last.wires, last.bored
	}
	e.mu.Lock()
	e.plain, e.known, e.hooks, e.wires, e.older = h, known, hooks, wires, older
	e.mu.Unlock()
	return e.best(), nil
}

// hook measures the hook of a file, unless that has been done.
func (s *shelf) hook(ctx context.Context, file string, mmPerUnit float64) (*moldbox.HookBody, error) {
	return measured(ctx, s, file, mmPerUnit, func(e *shelved) map[float64]*moldbox.HookBody { return e.hooks }, (*head.Head).Hook)
}

// wire measures the wire of a file, unless that has been done.
func (s *shelf) wire(ctx context.Context, file string, mmPerUnit float64) (*moldbox.WireBody, error) {
	return measured(ctx, s, file, mmPerUnit, func(e *shelved) map[float64]*moldbox.WireBody { return e.wires }, (*head.Head).Wire)
}

// measured looks for what is known of a body and else measures it.
func measured[B any](ctx context.Context, s *shelf, file string, mmPerUnit float64, known func(*shelved) map[float64]*B,
	measure func(*head.Head, context.Context, float64) (*B, error)) (*B, error) {
	h, err := s.get(ctx, file)
	if err != nil {
		return nil, err
	}
	if h.Format == head.ThreeMF { // it states its own unit
		mmPerUnit = 1
	}
	e := s.at(file)
	e.looking.Lock()
	defer e.looking.Unlock()
	if b := known(e)[mmPerUnit]; b != nil {
		return b, nil
	}
	b, err := measure(h, ctx, mmPerUnit)
	if err == nil {
		known(e)[mmPerUnit] = b
	}
	return b, err
}

func (e *shelved) best() *head.Head {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.known != nil {
		return e.known
	}
	return e.plain
}

// look looks whether a head that was read cuts through itself, unless that has
// been done, and returns it as it is to be taken.
func (s *shelf) look(ctx context.Context, file string) (*head.Head, error) {
	e := s.at(file)
	e.looking.Lock()
	defer e.looking.Unlock()
	h := e.best()
	if e.known != nil {
		return h, nil
	}
	taken := *h
	taken.Findings = slices.Clip(h.Findings)
	crossed, err := taken.LookForCrossing(ctx)
	if err != nil {
		return nil, err
	}
	if crossed {
		h = &taken
	}
	e.mu.Lock()
	e.known = h
	e.mu.Unlock()
	return h, nil
}

// checkUnit refuses a unit for a file that states its own.
func (m *Mold) checkUnit(file string, h *head.Head) error {
	for _, c := range m.Job.Placed() {
		if c.Head.File == file && c.Head.Unit != "mm" && h.Format == head.ThreeMF {
			return &head.Error{Name: h.Name, Problems: []head.Problem{{Rule: "unit",
				Message: fmt.Sprintf("the 3MF file states its own unit, but head.unit is %q", c.Head.Unit),
				Hints:   []string{"remove head.unit; lengths under [head] are then in mm"}}}}
		}
	}
	return nil
}

// lookForCrossings looks at all heads and reports whether one is to be taken
// otherwise than it was read.
func (m *Mold) lookForCrossings(ctx context.Context) (crossed bool, err error) {
	for _, file := range m.files() {
		h, err := m.shelf.look(ctx, file)
		if err != nil {
			return false, err
		}
		crossed = crossed || h != m.heads[file]
	}
	return crossed, nil
}

// files are those of the heads, in the job's order.
func (m *Mold) files() (list []string) {
	for _, c := range m.Job.Placed() {
		if !slices.Contains(list, c.Head.File) {
			list = append(list, c.Head.File)
		}
	}
	return list
}

// headFindings are what reading heads and hooks had to say, each file once.
func (m *Mold) headFindings() (list []moldbox.Finding) {
	told := map[string]bool{}
	for i, c := range m.Job.Placed() {
		if h := m.heads[c.Head.File]; !told[c.Head.File] {
			told[c.Head.File] = true
			list = slices.Concat(list, h.Findings, c.Head.CheckSize(h))
			for _, f := range slices.Concat(c.CheckHookApart(h.Hooks), c.CheckWiresApart(h.Wires)) {
				f.Cavity = m.spec.Cavities[i].Name // whose picture shows it
				list = append(list, f)
			}
		}
		if c.Hook != nil && c.Hook.File != "" && !told["hook "+c.Hook.File] {
			told["hook "+c.Hook.File] = true
			list = append(list, c.HookTaken(m.hooks[c.Hook.File]))
		}
		for _, b := range m.bored[i].bores {
			if !slices.Contains(m.bored[:i], m.bored[i]) {
				list = append(list, c.BoreFilled(b))
			}
		}
	}
	return list
}

// cavityHeads returns each cavity's mesh in mm, in order along +X.
func (m *Mold) cavityHeads() (list []*geom.TriMesh) {
	for _, b := range m.bored {
		list = append(list, b.mesh)
	}
	return list
}
