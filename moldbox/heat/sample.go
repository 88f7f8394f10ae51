package heat

import "halfpour/geom"

// PlaceSample is a Sample, and whether what is there was cast.
type PlaceSample struct {
	Sample
	Cast bool
}

// SamplesAt returns for each of several snapshots of one shot what is at places in
// the scene's box. It looks only once which part each place lies in.
func SamplesAt(moments []Snapshot, places []geom.Vec) [][]PlaceSample {
	if len(moments) == 0 {
		return nil
	}
	parts := make([]int32, len(places))
	for i, p := range places {
		parts[i] = moments[0].part(p)
	}
	list := make([][]PlaceSample, len(moments))
	for i, n := range moments {
		list[i] = make([]PlaceSample, len(places))
		for k, part := range parts {
			s := n.sample(part)
			list[i][k] = PlaceSample{s, s.Body < n.g.fill() && n.g.scene.Bodies[s.Body].Role.Cast()}
		}
	}
	return list
}
