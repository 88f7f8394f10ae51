package picture

import "math"

// Shadows of the main light are looked for in the picture itself: from each
// cell the way to the light is followed over the cells that it passes. What
// the viewer does not see throws no shadow.
const (
	shadowSteps  = 18
	shadowGrowth = 1.3  // from a step to the next, the first 1.5 pixels (in a picture 1000 high)
	shadowSoft   = 0.22 // of the way to what throws it: how far over the ray something must stand to hide the lamp whole
	shadowDepth  = 0.72 // how much of the main light a full shadow takes; what is far throws a lesser one
)

// shadows finds for each cell how much of the main light is kept from it.
type shadows struct {
	*cells
	toward vec3 // the main light
	ways   [shadowTurns][shadowSteps]shadowStep
	hidden []float32
}

// shadowTurns is how many sets of steps neighbouring cells take turns with, so
// that the steps make no bands.
const shadowTurns = 8

// shadowStep is a step of the way to the light.
type shadowStep struct {
	tap
	over float32 // how far the way is over the cell's own depth there, mm
	full float32 // 1 over how far something must stand over the way to hide the lamp whole, 1/mm
	most float32 // share of the lamp that it can hide
}

func newShadows(c *cells, height int) *shadows {
	s := &shadows{cells: c, toward: mainLamp.from, hidden: make([]float32, len(c.places))}
	flat := math.Hypot(float64(s.toward.x), float64(s.toward.y))
	dx, dy, rise := float64(s.toward.x)/flat, -float64(s.toward.y)/flat, float64(s.toward.z)/flat
	size := max(1, float64(height)/1000)
	for turn := range s.ways {
		for i := range s.ways[turn] {
			far := size * 1.5 * math.Pow(shadowGrowth, float64(i)+float64(turn)/shadowTurns)
			mm := far * float64(s.pixel)
			share := float64(i) / shadowSteps
			s.ways[turn][i] = shadowStep{tapAt(far, dx, dy),
				float32(mm*rise) + s.pixel, 1 / float32(shadowSoft*mm+float64(s.pixel)), float32(1 - share*share*share)}
		}
	}
	return s
}

// reach is all that cells look at.
func (s *shadows) reach() (list []tap) {
	for _, way := range s.ways {
		for _, step := range way {
			list = append(list, step.tap)
		}
	}
	return list
}

// ask is how much of the main light is kept from a cell, when all have been
// looked at.
func (s *shadows) ask(x, y int) float32 { return s.kept(x, y, (x*5+y*3)%shadowTurns) }

// askAll asks by all sets of steps, whose turn it is or not, where there is a shadow.
func (s *shadows) askAll(x, y int) float32 {
	if s.ask(x, y) == 0 {
		return 0
	}
	sum := float32(0)
	for turn := range shadowTurns {
		sum += s.kept(x, y, turn)
	}
	return sum / shadowTurns
}

// kept is how much of the main light is kept from a cell by a set of steps.
func (s *shadows) kept(x, y, turn int) float32 {
	k := y*s.width + x
	p := s.places[k]
	if p == farBehind || s.normals[k].dot(s.toward) <= 0 {
		return 0 // turned away from the light: dark without a shadow
	}
	most := float32(0)
	for i := range &s.ways[turn] {
		step := &s.ways[turn][i]
		u, v := x+step.dx, y+step.dy
		if uint(u) >= uint(s.width) || uint(v) >= uint(s.height) {
			break
		}
		if over := s.places[v*s.width+u].z - p.z - step.over; over > 0 {
			most = max(most, min(1, over*step.full)*step.most)
		}
	}
	return most
}

// light is the share of the main light at a pixel.
func (s *shadows) light(a *around) float32 { return 1 - shadowDepth*a.mean(s.hidden) }
