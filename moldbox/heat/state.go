package heat

// state is the mold at one moment.
type state struct {
	g      *grid
	links  []link
	air    []ground
	open   []ground
	curves []*curve // by body, that of the fill last
	of     []*curve // by part
	volume []float64

	time   float64 // since the pour, s
	step   float64 // the last one, s; 0: none since the last break
	empty  bool    // the casting is out
	isOpen bool    // and the mold lies open
	alpha  float64 // of the fill, mm²/s

	// Heat in J/mm³: as solved for now, and what the flows that were found left of
	// it, now and one step ago. They differ by what the solution of a step is off;
	// steps go on from the latter, so that nothing is lost.
	heat, held, before []float64
	temperature        []float64
	stretch            []int32
	outside            [2]float64 // J that went to the air: now and one step ago
	brought            float64    // J that was put in from outside: by pours, less what was taken out

	m                     *matrix
	resists               []float64 // by part, one over its conductivity, mm·K/W
	flow                  []float64 // by link, W/K
	corrected             []float64 // by link, see correct
	risen                 []float64 // by part: its rise over that of the skin, as the profile has it
	profiled              float64   // s since the pour, when that was
	lost                  []float64 // by part, W/K to the air
	rest                  []float64 // right-hand side
	change                []float64
	wanted                []float64
	start                 []float64 // heat before a step
	steps, sweeps, rounds int
}

func newState(g *grid) *state {
	l := g.link()
	n := len(g.parts)
	s := &state{g: g, links: l.links, air: l.air, open: l.open}
	scene := g.scene
	for _, b := range scene.Bodies {
		s.curves = append(s.curves, newCurve(b.Substance))
	}
	s.curves = append(s.curves, newCurve(scene.Fill))
	fill := scene.Fill.At(scene.FillC)
	more := scene.Fill.At(scene.FillC + 1)
	s.alpha = fill.K * 1e-3 / (more.H - fill.H)
	for _, p := range g.parts {
		s.of = append(s.of, s.curves[p.body])
		s.volume = append(s.volume, p.volume)
	}
	for _, x := range []*[]float64{&s.heat, &s.before, &s.held, &s.risen, &s.resists, &s.temperature, &s.lost, &s.rest, &s.change, &s.wanted} {
		*x = make([]float64, n)
	}
	s.stretch = make([]int32, n)
	s.flow, s.corrected = make([]float64, len(s.links)), make([]float64, len(s.links))
	s.m = newMatrix(n, s.links)
	for i, p := range g.parts {
		c := scene.FillC
		if p.body < g.fill() {
			c = scene.Bodies[p.body].Start
		}
		s.set(i, c)
	}
	return s
}

// set puts a part at a temperature.
func (s *state) set(i int, c float64) {
	body := s.g.parts[i].body
	substance := &s.g.scene.Fill
	if body < s.g.fill() {
		substance = &s.g.scene.Bodies[body].Substance
	}
	s.heat[i] = substance.At(c).H
	s.held[i] = s.heat[i]
	s.settle(i)
}

// settle takes a part's temperature from its heat.
func (s *state) settle(i int) {
	k := s.of[i].stretch(s.heat[i], int(s.stretch[i]))
	s.stretch[i] = int32(k)
	s.temperature[i] = s.of[i].temperature(s.heat[i], k)
}

// share that is solid of a part.
func (s *state) share(i int) float64 { return s.of[i].share(s.heat[i], int(s.stretch[i])) }

// total is all heat that the flows left, J, counted from where the substances' curves count.
func (s *state) total() float64 {
	sum := 0.0
	for i, h := range s.held {
		sum += s.volume[i] * h
	}
	return sum
}

// pour fills the cavities and puts in the wires.
func (s *state) pour() {
	for i, p := range s.g.parts {
		if p.body < s.g.fill() && s.g.scene.Bodies[p.body].Role != Fixed {
			was := s.held[i]
			s.set(i, s.g.scene.Bodies[p.body].Start)
			s.brought += s.volume[i] * (s.heat[i] - was)
		}
	}
	s.time, s.empty, s.isOpen, s.step, s.profiled = 0, false, false, 0, 0
}

// opened takes the casting out: its parts stay as they are, and out of all.
func (s *state) opened() { s.empty, s.isOpen, s.step = true, true, 0 }

// shut closes the empty mold.
func (s *state) shut() { s.isOpen, s.step = false, 0 }

// gone reports whether a part is not there now.
func (s *state) gone(i int32) bool {
	b := s.g.parts[i].body
	return s.empty && b < s.g.fill() && s.g.scene.Bodies[b].Role != Fixed
}
