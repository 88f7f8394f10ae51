package pourplan

import (
	"math"
	"slices"

	"halfpour/geom"
)

// PlacedLabel is a Label and where it stands: at its place, or beside it where
// another label stands already.
type PlacedLabel struct {
	Label
	Stands geom.Vec2
}

// How labels look for room: on rings round their place, so many places on each,
// at most so many rings of half a radius.
const (
	labelPlaces = 24
	labelRings  = 24
)

// PlaceLabels moves labels apart so that none covers another: those given first
// keep their place. Each takes a disc of the given radius, small or big, in the
// drawing's mm. Where there is no room at all a label stays where it is.
func (d Drawing) PlaceLabels(small, big float64) []PlacedLabel {
	radius := func(l Label) float64 {
		if l.Big {
			return big
		}
		return small
	}
	var out []PlacedLabel
	free := func(at geom.Vec2, r float64) bool {
		return !slices.ContainsFunc(out, func(o PlacedLabel) bool { return at.Sub(o.Stands).Norm() < r+radius(o.Label) })
	}
	for _, l := range d.Labels {
		r, stands := radius(l), l.At
		for i := 0; i < labelPlaces*labelRings && !free(stands, r); i++ {
			far, angle := r/2*float64(1+i/labelPlaces), 2*math.Pi*float64(i%labelPlaces)/labelPlaces
			stands = l.At.Add(geom.Vec2{X: math.Cos(angle), Y: math.Sin(angle)}.Mul(far))
		}
		if !free(stands, r) {
			stands = l.At
		}
		out = append(out, PlacedLabel{l, stands})
	}
	return out
}
