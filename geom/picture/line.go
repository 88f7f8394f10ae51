package picture

import "math"

// Edges of the model show as lines: by how much they change the light.
const (
	creaseCosine = 0.88 // facets that meet at more than 28° get a line
	hollowLine   = 0.55
	ridgeLine    = 1.18
	stepLine     = 0.45
	cutLine      = 0.25

	stepPixels = 1.5 // off the planes of both sides
)

// levelOf is how much deeper than a sample its neighbour may be, mm, so that the way
// between them is no step, whatever its direction. The way goes along a line of sight and
// across to the next, at the far end of the model at most.
func levelOf(s Scene, pixel float32) float32 {
	sin, cos := math.Sincos(s.Camera.Perspective / 2)
	return pixel * (stepPixels - (1+float32(sin))/perSide) * float32(cos)
}

// lines returns by how much edges of the model change the light of a pixel's samples,
// those at places at of the raster that are on triangles on: a step in depth and a
// hollow darken, a ridge lightens. smooth tells that all are on one mesh and no edge
// runs between them.
func (sh *shader) lines(x, y int, at *[samples]int, on *[samples]int32) (lines [samples]float32, smooth bool) {
	smooth = on[0] >= 0
	lines = [samples]float32{1, 1, 1, 1}
	for i := range inward {
		k, l := inward[i][0], inward[i][1]
		t, u := on[k], on[l]
		if t == u {
			continue
		}
		f := sh.edge(at[k], at[l], t, u)
		lines[k], lines[l] = join(lines[k], f), join(lines[l], f)
		smooth = smooth && f == 1 && t >= 0 && u >= 0 && sh.model.mesh[t] == sh.model.mesh[u]
	}
	inside := [4]bool{x > 0, x < sh.scene.Width-1, y > 0, y < sh.scene.Height-1}
	for i := range outward {
		if !inside[i/perSide] {
			continue
		}
		s := outward[i].sample
		t, l := on[s], at[s]+outward[i].x+outward[i].y*sh.width
		if u := sh.triangle[l]; u != t && t != -1 {
			lines[s] = join(lines[s], sh.edge(at[s], l, t, u))
		}
	}
	return lines, smooth
}

// inward are the pairs of a pixel's samples that are side by side, and outward the ways
// from them to those of the pixels to the left, to the right, over and under it.
var (
	inward  = [4][2]int{{0, 1}, {2, 3}, {0, 2}, {1, 3}}
	outward = [4 * perSide]struct{ sample, x, y int }{
		{0, -1, 0}, {2, -1, 0}, {1, 1, 0}, {3, 1, 0}, {0, 0, -1}, {1, 0, -1}, {2, 0, 1}, {3, 0, 1},
	}
)

// edge judges two neighbouring samples, which are on triangles t and u.
func (sh *shader) edge(k, l int, t, u int32) float32 {
	switch {
	case t == -1 || u == -1:
		return stepLine
	case t <= -2 || u <= -2: // the rim of a cut face
		return cutLine
	case sh.model.calm[t] && sh.model.calm[u] && sh.evenDepth(sh.near[k], sh.near[l]):
		return 1
	}
	return sh.meeting(k, l, t, u)
}

// meeting is the line where two triangles meet between neighbouring samples.
func (sh *shader) meeting(k, l int, t, u int32) float32 {
	n, m := sh.model.face(t).facing, sh.model.face(u).facing
	cosine := n.dot(m)
	if cosine > creaseCosine && sh.evenDepth(sh.near[k], sh.near[l]) {
		return 1
	}
	step := sh.at(l%sh.width, l/sh.width).sub(sh.at(k%sh.width, k/sh.width))
	high, deep := n.dot(step), m.dot(step)
	limit := stepPixels * sh.pixel
	switch {
	case (high > limit || high < -limit) && (deep > limit || deep < -limit):
		return stepLine
	case cosine > creaseCosine:
		return 1
	case m.sub(n).dot(step) < 0:
		return hollowLine
	}
	return ridgeLine
}

// evenDepth reports whether two neighbouring samples are so near in depth that there is
// no step between them.
func (sh *shader) evenDepth(near, other float32) bool {
	d, level := near-other, sh.level
	if sh.view.perspective { // depths are -1/near, and so apart by d/(near·other)
		level *= near * other
	}
	return d < level && d > -level
}

// join keeps the darker of two lines, and a lighter one where there is none.
func join(a, b float32) float32 {
	if a < 1 || b < 1 {
		return min(a, b)
	}
	return max(a, b)
}
