package heat

import "math"

// books are what heat there was before the first pour, J.
type books struct {
	begin float64
	metal float64 // what the metal of one shot brings
}

func (s *state) openBooks() books {
	b := books{begin: s.total()}
	scene := s.g.scene
	for i, part := range s.g.parts {
		if part.body < s.g.fill() && scene.Bodies[part.body].Role.Cast() {
			b.metal += s.volume[i] * (s.heat[i] - scene.Bodies[part.body].Substance.At(scene.FillC).H)
		}
	}
	return b
}

// off is by how much heat is more or less than it should be, over what a shot's
// metal brings.
func (b books) off(s *state) float64 {
	return math.Abs(s.total()+s.outside[0]-b.begin-s.brought) / math.Max(b.metal, 1e-12)
}
