package main

import (
	"context"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"halfpour/moldbox"
)

// A run of a watched build takes over the heads and the mold of the one before
// for as long as they are what the job asks for, and comes to the same plan as
// a run that starts anew.
func TestKept(t *testing.T) {
	ctx, job := context.Background(), writeJob(t)
	term := newTerminal(nil, io.Discard, io.Discard, io.Discard)
	head := filepath.Join(filepath.Dir(job), starterHead)
	edit := func(old, new string) func(t *testing.T) {
		return func(t *testing.T) {
			text, err := os.ReadFile(job)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(string(text), old) {
				t.Fatalf("no %q in the job", old)
			}
			save(t, job, strings.Replace(string(text), old, new, 1))
		}
	}
	var k kept
	for _, c := range []struct {
		name       string
		change     func(t *testing.T)
		head, mold bool // are those of the run before
	}{
		{"the first", func(*testing.T) {}, false, false},
		{"nothing new", func(*testing.T) {}, true, true},
		{"a colder room", edit("\n# room = 23", "\nroom = 17"), true, true},
		{"another hook", edit("\nwire = 1.1", "\nwire = 1.2"), true, false},
		{"the head was saved", func(t *testing.T) {
			if err := os.Chtimes(head, time.Time{}, time.Now().Add(time.Minute)); err != nil {
				t.Fatal(err)
			}
		}, false, false},
	} {
		c.change(t)
		w, err := readWork(context.Background(), term, job)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		before := k
		k.lend(w)
		first, err := k.sketch(ctx, w)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if got := first != nil; got != (before.mold != nil && !c.mold) {
			t.Errorf("%s: first figures: %v", c.name, got)
		}
		if err := w.open(ctx); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		k.keep(w)
		v, err := k.roughly(ctx, w)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := w.newPlan(v)
		if err != nil {
			t.Fatal(err)
		}
		if first != nil {
			for what, off := range map[string]float64{
				"part A": first.Rubber.TotalAG/plan.Rubber.TotalAG - 1, "a shot": first.Metal.ShotG/plan.Metal.ShotG - 1,
			} {
				if math.Abs(off) > moldbox.SketchOff {
					t.Errorf("%s: the first figures' %s is off by %.1f %%", c.name, what, 100*off)
				}
			}
		}
		if got := before.heads != nil && before.heads[starterHead] == w.heads[starterHead]; got != c.head {
			t.Errorf("%s: the head kept: %v", c.name, got)
		}
		if got := before.mold != nil && before.mold == w.mold; got != c.mold {
			t.Errorf("%s: the mold kept: %v", c.name, got)
		}
		anew, err := readWork(context.Background(), term, job)
		if err != nil {
			t.Fatal(err)
		}
		want, err := anew.check(ctx, func(string, float64) {})
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(plan, want) {
			t.Errorf("%s: another plan than from the start", c.name)
		}
	}
}
