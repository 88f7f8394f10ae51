package pourplan

import (
	"testing"

	"halfpour/geom"
)

// Letters of several findings at one place, and beside a cavity's number, stand
// apart and stay near; what has room stays where it is.
func TestLabelsStandApart(t *testing.T) {
	at := geom.Vec2{X: 3, Y: 4}
	d := Drawing{Labels: []Label{{At: at, Text: "1", Big: true}, {At: at, Text: "a"}, {At: at, Text: "b"}, {At: at.Add(geom.Vec2{X: 2}), Text: "c"}, {At: geom.Vec2{X: 30}, Text: "d"}}}
	const small, big = 1.7, 2.7
	placed := d.PlaceLabels(small, big)
	for i, l := range placed {
		for _, o := range placed[:i] {
			least := 2 * small
			if o.Big {
				least = small + big
			}
			if got := l.Stands.Sub(o.Stands).Norm(); got < least {
				t.Errorf("%s is %.2f mm from %s, want at least %.2f mm", l.Text, got, o.Text, least)
			}
		}
		if far := l.Stands.Sub(l.At).Norm(); far > 8 {
			t.Errorf("%s is %.2f mm from its place", l.Text, far)
		}
	}
	if placed[0].Stands != at || placed[4].Stands != d.Labels[4].At {
		t.Errorf("labels with room have moved: %v, %v", placed[0], placed[4])
	}
}
