package making

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// example is the text of an example's job, and reads its heads.
func example(t testing.TB, name string) (string, Heads) {
	t.Helper()
	folder := filepath.Join("..", "..", "examples", name)
	text, err := os.ReadFile(filepath.Join(folder, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text), func(ctx context.Context, file string) (*head.Head, error) {
		data, err := os.ReadFile(filepath.Join(folder, file))
		if err != nil {
			return nil, err
		}
		return head.Read(ctx, file, data)
	}
}

// kept reads each head once.
func kept(read Heads) Heads {
	heads := map[string]*head.Head{}
	return func(ctx context.Context, file string) (*head.Head, error) {
		if heads[file] == nil {
			h, err := read(ctx, file)
			if err != nil {
				return nil, err
			}
			heads[file] = h
		}
		return heads[file], nil
	}
}

func runOf(t testing.TB, text string, heads Heads) *Run {
	t.Helper()
	job, err := pourplan.ReadJob("job.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return New(job, heads)
}

// A run takes over the heads and the mold of the one before for as long as they
// are what the job asks for, and comes to the same plan as a run that starts
// anew.
func TestReuse(t *testing.T) {
	ctx := context.Background()
	text, read := example(t, "ball-jig")
	same := kept(read)
	var last *Run
	for _, c := range []struct {
		name     string
		old, new string // in the job
		heads    Heads
		mold     bool // is that of the run before
	}{
		{"the first", "", "", same, false},
		{"nothing new", "", "", same, true},
		{"a colder room", "\n[rubber]", "\n[evening]\nroom = 17\n\n[rubber]", same, true},
		{"another hook", "\nwire = 1.1", "\nwire = 1.2", same, false},
		{"the head was saved", "", "", read, false},
	} {
		if !strings.Contains(text, c.old) {
			t.Fatalf("%s: no %q in the job", c.name, c.old)
		}
		text = strings.Replace(text, c.old, c.new, 1)
		run := runOf(t, text, c.heads)
		var before made
		if last != nil {
			run.Reuse(last)
			before = last.Molds[0].made
		}
		m := run.Molds[0]
		first, err := m.Sketch(ctx)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if got := first != nil; got != (last != nil && !c.mold) {
			t.Errorf("%s: first figures: %v", c.name, got)
		}
		if err := run.Check(ctx, CheckShare, nil); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if first != nil {
			for what, off := range map[string]float64{
				"part A": first.Rubber.TotalAG/m.Plan.Rubber.TotalAG - 1, "a shot": first.Metal.ShotG/m.Plan.Metal.ShotG - 1,
			} {
				if math.Abs(off) > moldbox.SketchOff {
					t.Errorf("%s: the first figures' %s is off by %.1f %%", c.name, what, 100*off)
				}
			}
		}
		if got := before.Solids == m.Solids; got != c.mold {
			t.Errorf("%s: the mold kept: %v", c.name, got)
		}
		anew := runOf(t, text, read)
		if err := anew.Check(ctx, CheckShare, nil); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(m.Plan, anew.Molds[0].Plan) {
			t.Errorf("%s: another plan than from the start", c.name)
		}
		last = run
	}
}
