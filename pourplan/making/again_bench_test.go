package making

import (
	"context"
	"strings"
	"testing"
)

// BenchmarkFirstFigures is what a change of the minnow example takes until first
// figures are there, the job's reading included, and until checked ones are.
func BenchmarkFirstFigures(b *testing.B) {
	ctx := context.Background()
	text, heads := example(b, "minnow-tray")
	heads = kept(heads)
	last := runOf(b, text, heads)
	if err := last.Check(ctx, CheckShare, nil); err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct{ name, old, new string }{
		{"sprue", "\n[marking]", "\n[sprue]\nmouth = 13\n\n[marking]"},
		{"hook", "\nwire = 1.2", "\nwire = 1.1"},
		{"weight", "3/8 oz", "5/16 oz"},
	} {
		changed := strings.Replace(text, c.old, c.new, 1)
		begin := func() *Run {
			run := runOf(b, changed, heads)
			run.Reuse(last)
			return run
		}
		b.Run("first/"+c.name, func(b *testing.B) {
			for b.Loop() {
				if plan, err := begin().Molds[0].Sketch(ctx); err != nil || plan == nil {
					b.Fatal(plan, err)
				}
			}
		})
		b.Run("checked/"+c.name, func(b *testing.B) {
			for b.Loop() {
				if err := begin().Check(ctx, CheckShare, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
