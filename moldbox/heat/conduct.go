package heat

import "math"

// conduct sets how well each link conducts at a time since the pour.
func (s *state) conduct(at float64) {
	scene := s.g.scene
	for i, c := range s.of {
		s.resists[i] = 1 / c.conducts(s.heat[i], int(s.stretch[i]))
	}
	if !s.empty && math.Abs(at-s.profiled) > oftenEnough*s.profiled {
		s.correct(newProfile(at, s.alpha, s.contact()/s.resists[s.oneOfFill()]))
		s.profiled = at
	}
	clear(s.lost)
	for i := range s.links {
		l := &s.links[i]
		s.flow[i] = 0
		if s.empty {
			a, b := s.gone(l.a), s.gone(l.b)
			if s.isOpen && a && !b {
				s.toAir(l.b, l.area, l.db, scene.OpenAir*1e-6)
			} else if s.isOpen && b && !a {
				s.toAir(l.a, l.area, l.da, scene.OpenAir*1e-6)
			}
			if a || b || s.isOpen && l.across {
				continue
			}
		}
		db, factor := l.db, 1.0
		if !s.empty {
			switch l.kind {
			case skin:
				db = s.corrected[i]
			case nearby:
				factor = s.corrected[i]
			}
		}
		s.flow[i] = factor * l.area / (l.da*s.resists[l.a] + db*s.resists[l.b] + l.resistance)
	}
	for _, a := range s.air {
		if !s.gone(a.part) {
			s.toAir(a.part, a.area, a.d, a.coefficient)
		}
	}
	if s.isOpen {
		for _, a := range s.open {
			s.toAir(a.part, a.area, a.d, a.coefficient)
		}
	}
}

// oftenEnough is by what share of the time since the pour corrections may be late.
const oftenEnough = 0.15

// correct works out, for links at the skin, how far the fill's part seems to be
// from it, and for those near it the factor on their flow.
func (s *state) correct(p profile) {
	for i := range s.g.parts {
		if part := &s.g.parts[i]; part.body == s.g.fill() && part.fromCast < nearSkin*s.g.cell {
			s.risen[i] = p.mean(part.fromCast, part.spread)
		}
	}
	for i := range s.links {
		l := &s.links[i]
		a, b := &s.g.parts[l.a], &s.g.parts[l.b]
		switch l.kind {
		case skin:
			d := p.fromSkin(l.db, math.Min(l.db, b.spread))
			s.corrected[i] = d / (1 + math.Max(-0.3, math.Min(1, b.bend*d/2)))
		case nearby:
			s.corrected[i] = p.through(a, b, s.risen[l.a]-s.risen[l.b], l.lead)
		}
	}
}

// toAir adds a way from a part to the air.
func (s *state) toAir(part int32, area, d, coefficient float64) {
	if coefficient > 0 {
		s.lost[part] += area / (d*s.resists[part] + 1/coefficient)
	}
}

// contact is the resistance between what is cast and the fill, mm²·K/W.
func (s *state) contact() float64 {
	for _, b := range s.g.scene.Bodies {
		if b.Role.Cast() {
			if b.Contact > 0 {
				return 1e6 / b.Contact
			}
			return 0
		}
	}
	return 0
}

// oneOfFill is a part of the fill.
func (s *state) oneOfFill() int32 {
	for i := range s.g.parts {
		if s.g.parts[i].body == s.g.fill() {
			return int32(i)
		}
	}
	return 0
}
