package making

import (
	"context"
	"testing"
)

// BenchmarkCast is all heat that a build of an example computes: the shot, the slowest
// one, the trials and the rhythm.
func BenchmarkCast(b *testing.B) {
	ctx := context.Background()
	for _, name := range []string{"ball-jig", "minnow-tray"} {
		b.Run(name, func(b *testing.B) {
			text, heads := example(b, name)
			run := runOf(b, text, heads)
			if err := run.Open(ctx, nil); err != nil {
				b.Fatal(err)
			}
			m := run.Molds[0]
			cases, _ := m.Job.CastCases()
			for b.Loop() {
				shot, err := m.computeShot(ctx, nil, cases)
				if err != nil {
					b.Fatal(err)
				}
				m.cast = shot
				if err := m.finishCast(ctx); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
