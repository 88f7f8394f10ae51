package making

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"halfpour/moldbox/head"
)

const twoSizes = `
[[size]]
target = "1/4 oz"
[[size]]
name = "Trial"
target = "3/8 oz"
`

// Sizes of one head read it once, each gets its own plan, and the list is of
// both. Steps are told by their size.
func TestSizesOfOneHead(t *testing.T) {
	text, read := example(t, "ball-jig")
	var reads atomic.Int64
	run := runOf(t, text+twoSizes, func(ctx context.Context, file string) (*head.Head, error) {
		reads.Add(1)
		return read(ctx, file)
	})
	steps := make(chan Step, 99)
	if err := run.Check(context.Background(), CheckShare, func(s Step) { steps <- s }); err != nil {
		t.Fatal(err)
	}
	close(steps)
	if reads.Load() != 1 {
		t.Errorf("the head was read %d times", reads.Load())
	}
	a, b := run.Molds[0], run.Molds[1]
	if a.Name != "1/4 oz" || b.Name != "Trial" || !(a.Plan.Heads[0].MetalG.Best < b.Plan.Heads[0].MetalG.Best) || run.List == nil || len(run.List.Molds) != 2 {
		t.Errorf("%q, %q, list %+v", a.Name, b.Name, run.List)
	}
	told := map[string][]string{}
	for s := range steps {
		told[s.Mold.Name] = append(told[s.Mold.Name], s.Name)
	}
	for _, size := range []string{"1/4 oz", "Trial"} {
		if want := []string{"reading", "read", "measuring rubber", "measured"}; !slices.Equal(told[size], want) {
			t.Errorf("%s: steps %v", size, told[size])
		}
	}
}

// What is wrong with molds is told mold by mold; a finding that says stop ends a
// run before anything is made, unless it goes on anyway.
func TestRunThatFails(t *testing.T) {
	ctx := context.Background()
	text, read := example(t, "ball-jig")
	gone := errors.New("gone")
	run := runOf(t, text+twoSizes, func(context.Context, string) (*head.Head, error) { return nil, gone })
	var molds MoldErrors
	if err := run.Make(ctx, Options{}); !errors.As(err, &molds) || len(molds) != 2 || molds[1].Mold.Name != "Trial" || !errors.Is(err, gone) {
		t.Errorf("got %v", err)
	}
	run = runOf(t, strings.Replace(text, "eye = [-1.22, 8.95, 0]", "eye = [0, 0, 0]", 1), read)
	var stop *StopError
	if err := run.Make(ctx, Options{}); !errors.As(err, &stop) || stop.Molds[0] != run.Molds[0] || run.Molds[0].Plan != nil || run.Molds[0].Frames[0] != nil {
		t.Errorf("got %v, plan %v", err, run.Molds[0].Plan)
	}
	ctx, cancel := context.WithCancel(ctx)
	cancel()
	if err := runOf(t, text, read).Make(ctx, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: got %v", err)
	}
}
