package making

import (
	"context"
	"errors"
	"math"
	"strings"
	"sync"
	"testing"

	"halfpour/geom/parallel"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// packing does all pieces and hands back what another engine would get.
type packing struct {
	mu     sync.Mutex
	done   int
	failed error
}

func (p *packing) Piece(_ context.Context, _ string, do func() error, pack func() ([]byte, error)) ([]byte, error) {
	if err := do(); err != nil {
		return nil, err
	}
	data, err := pack()
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done++
	p.failed = errors.Join(p.failed, err)
	return data, nil
}

// A shot is computed once. Heads then weigh what is asked for by what is fed in them,
// which takes another mold; what a caller has found stays, once.
func TestCastThenCheck(t *testing.T) {
	ctx := context.Background()
	text, read := example(t, "ball-jig")
	read = kept(read)
	run := runOf(t, text, read)
	m := run.Molds[0]
	m.Findings = []moldbox.Finding{{Severity: moldbox.Note, Code: "mine"}}
	if err := run.Check(ctx, CheckShare, nil); err != nil {
		t.Fatal(err)
	}
	rough, findings := m.Plan, len(m.Findings)
	if rough.Casting.SolidS != 0 || m.Findings[0].Code != "mine" {
		t.Fatalf("a check computed a shot: %+v", rough.Casting)
	}
	all := &packing{}
	if err := run.Cast(parallel.WithSharer(ctx, all), nil); err != nil {
		t.Fatal(err)
	}
	was, cast := m.cast, m.computed()
	if cast.Rhythm != nil || cast.Trials != nil {
		t.Error("waited for what only the plan asks for")
	}
	if err := run.Check(parallel.WithSharer(ctx, all), CheckShare, nil); err != nil {
		t.Fatal(err)
	}
	if want := 3 + len(m.computed().Trials); all.done < want || all.failed != nil {
		t.Errorf("%d pieces to share, want %d: %v", all.done, want, all.failed)
	}
	if cast = m.computed(); cast.Rhythm == nil || len(cast.Trials) == 0 {
		t.Errorf("rhythm %v, %d trials", cast.Rhythm, len(cast.Trials))
	}
	if err := run.Check(ctx, CheckShare, nil); err != nil || m.computed() != cast {
		t.Errorf("the rest of a shot is computed twice: %v", err)
	}
	p := m.Plan
	if p.Casting.SolidS == 0 || m.Findings[0].Code != "mine" || len(m.Findings) != findings {
		t.Errorf("%d findings were %d: %+v", len(m.Findings), findings, m.Findings)
	}
	fed := p.Metal.FedFactor
	if !(fed.Low < fed.Best && fed.Best < fed.High) || fed.High-fed.Low > 0.6*(rough.Metal.FedFactor.High-rough.Metal.FedFactor.Low) {
		t.Errorf("fed %+v, without a computation %+v", fed, rough.Metal.FedFactor)
	}
	for _, h := range p.Heads {
		if math.Abs(h.FinishedG.Best-h.TargetG) > 1e-4*h.TargetG {
			t.Errorf("%s weighs %.4f g of %.4f g", h.Name, h.FinishedG.Best, h.TargetG)
		}
	}
	near := math.Cbrt(rough.Metal.FedFactor.Best / fed.Best)
	if got := p.Heads[0].Scale / rough.Heads[0].Scale; math.Abs(got-near) > 1e-4 {
		t.Errorf("scaled by %.5f, want %.5f", got, near)
	}
	if err := run.Cast(ctx, nil); err != nil || m.cast != was {
		t.Errorf("computed twice: %v", err)
	}

	// Another hour takes over mold and shot; a colder room the mold.
	for more, same := range map[string]bool{"[evening]\nroom = 23\n": true, "[evening]\nroom = 19\n": false} {
		next := runOf(t, text+more, read)
		next.Reuse(run)
		if err := next.Cast(ctx, nil); err != nil {
			t.Fatal(err)
		}
		if n := next.Molds[0]; n.unfitted.Solids != m.unfitted.Solids || (n.cast == was) != same {
			t.Errorf("%q: the mold is the same: %v, the shot %v", more, n.unfitted.Solids == m.unfitted.Solids, n.cast == was)
		}
	}
}

// A shot that destroys the rubber, as computed, stops a mold that rules of thumb let pass.
func TestCastThatDestroysTheRubber(t *testing.T) {
	ctx := context.Background()
	text, read := example(t, "ball-jig")
	run := runOf(t, text, kept(read))
	if err := run.Cast(ctx, nil); err != nil || run.stopped() != nil {
		t.Fatalf("%v, stopped %v", err, run.stopped())
	}
	m := run.Molds[0]
	hot := *m.cast.cast
	hot.Best.Skin.Hottest = 351 // silicone comes apart above 350 °C, see rubber_findings.go
	cases, _ := m.Job.CastCases()
	m.cast, m.shot = nil, &shot{cases: cases, cast: &hot}
	if err := run.Cast(ctx, nil); err != nil || len(run.stopped()) != 1 {
		t.Fatalf("%v, stopped %v", err, run.stopped())
	}
	if err := run.Make(ctx, Options{}); err == nil {
		t.Error("made all the same")
	}
	if err := run.Check(ctx, CheckShare, nil); err != nil {
		t.Fatal(err)
	}
	told := 0
	for _, f := range m.Plan.Findings {
		if f.Code == pourplan.TooHotCode {
			told++
		}
	}
	if told != 1 {
		t.Errorf("told %d times", told)
	}
}

// Where nothing is known of the metal's freezing there is no shot, and no error.
func TestCastOfUnknownMetal(t *testing.T) {
	text, read := example(t, "ball-jig")
	text = strings.Replace(text, `preset = "lead-antimony 4"`, "density = \"11 g/cm3\"\nliquidus = 300\nshrink = 0.8", 1)
	run := runOf(t, text, kept(read))
	if err := run.Cast(context.Background(), nil); err != nil || run.Molds[0].cast != nil {
		t.Errorf("got %v", err)
	}
}

// A build begins trials and rhythm as soon as a shot says which, before heads come to
// their weight. What it leaves, because it stops, can be had later.
func TestRestIsBegunEarly(t *testing.T) {
	ctx := context.Background()
	text, read := example(t, "ball-jig")
	run := runOf(t, text, read)
	if err := run.Open(ctx, nil); err != nil {
		t.Fatal(err)
	}
	m := run.Molds[0]
	ahead, stop := context.WithCancel(ctx)
	stop()
	if err := m.castToMake(ctx, ahead, Options{}); err != nil {
		t.Fatal(err)
	}
	rest := m.cast.rest
	if rest.whole == nil || rest.rhythm == nil {
		t.Fatalf("not begun: %+v", rest)
	}
	if m.leaveRest(); rest.whole != nil || rest.rhythm != nil {
		t.Errorf("not left: %+v", rest)
	}
	if err := m.finishCast(ctx); err != nil || m.computed().Rhythm == nil || len(m.computed().Trials) == 0 {
		t.Errorf("%v, rhythm %v, %d trials", err, m.computed().Rhythm, len(m.computed().Trials))
	}
}
