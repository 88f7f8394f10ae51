package geom

import "math"

// Shadows of the main light are looked for in the picture itself: from each
// pixel the way to the light is followed over the pixels that it passes. What
// the viewer does not see throws no shadow.
const (
	shadowSteps  = 18
	shadowGrowth = 1.3  // from a step to the next, the first 1.5 pixels (in a picture 1000 high)
	shadowSoft   = 0.22 // of the way to what throws it: how far over the ray something must stand to hide the lamp whole
	shadowDepth  = 0.72 // how much of the main light a full shadow takes; what is far throws a lesser one
)

// shadows finds for each pixel how much of the main light it gets.
type shadows struct {
	*openness
	toward vec3 // the main light
	ways   [shadowTurns][shadowSteps]shadowStep
	pixel  float32 // mm
	hidden []float32
}

// shadowTurns is how many sets of steps neighbouring pixels take turns with, so
// that the steps make no bands.
const shadowTurns = 8

// shadowStep is a step of the way to the light.
type shadowStep struct {
	tap
	over float32 // how far the way is over the pixel's own depth there, mm
	full float32 // 1 over how far something must stand over the way to hide the lamp whole, 1/mm
	most float32 // share of the lamp that it can hide
}

func newShadows(o *openness, sh *shader) *shadows {
	s := &shadows{openness: o, toward: mainLight.from, pixel: sh.pixel, hidden: make([]float32, len(o.open))}
	flat := math.Hypot(float64(s.toward.x), float64(s.toward.y))
	dx, dy, rise := float64(s.toward.x)/flat, -float64(s.toward.y)/flat, float64(s.toward.z)/flat
	size := math.Max(1, float64(o.height)/1000)
	for turn := range s.ways {
		for i := range s.ways[turn] {
			far := size * 1.5 * math.Pow(shadowGrowth, float64(i)+float64(turn)/shadowTurns)
			mm := far * float64(s.pixel)
			share := float64(i) / shadowSteps
			s.ways[turn][i] = shadowStep{tap{int(math.Round(far * dx)), int(math.Round(far * dy))},
				float32(mm*rise) + s.pixel, 1 / float32(shadowSoft*mm+float64(s.pixel)), float32(1 - share*share*share)}
		}
	}
	return s
}

// ask is how much of the main light is kept from a pixel, when all have been
// looked at.
func (s *shadows) ask(x, y int) float32 {
	k := y*s.width + x
	p := s.places[k]
	if p == farBehind || s.normals[k].dot(s.toward) <= 0 {
		return 0 // turned away from the light: dark without a shadow
	}
	most := float32(0)
	for i := range &s.ways[0] {
		step := &s.ways[(x*5+y*3)%shadowTurns][i]
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

// light is the share of the main light at a pixel, smoothed.
func (s *shadows) light(x, y int) float32 { return 1 - shadowDepth*s.mean(s.hidden, x, y) }
