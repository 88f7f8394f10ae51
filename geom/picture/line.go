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
	for _, pair := range [4][2]int{{0, 1}, {2, 3}, {0, 2}, {1, 3}} {
		k, l := pair[0], pair[1]
		t, u := on[k], on[l]
		if t == u {
			continue
		}
		f := sh.edge(at[k], at[l], t, u)
		lines[k], lines[l] = join(lines[k], f), join(lines[l], f)
		smooth = smooth && f == 1 && t >= 0 && u >= 0 && sh.model.mesh[t] == sh.model.mesh[u]
	}
	inside := [4]bool{x > 0, x < sh.scene.Width-1, y > 0, y < sh.scene.Height-1}
	for i, d := range outward(sh.width) {
		if !inside[i/perSide] {
			continue
		}
		t, l := on[d.sample], at[d.sample]+d.step
		if u := sh.triangle[l]; u != t && t != -1 {
			lines[d.sample] = join(lines[d.sample], sh.edge(at[d.sample], l, t, u))
		}
	}
	return lines, smooth
}

// outward are the ways from a pixel's samples to those of the pixels to the left, to
// the right, over and under it, in a raster so wide.
func outward(width int) [4 * perSide]struct{ sample, step int } {
	return [...]struct{ sample, step int }{{0, -1}, {2, -1}, {1, 1}, {3, 1}, {0, -width}, {1, -width}, {2, width}, {3, width}}
}

// edge judges two neighbouring samples, which are on triangles t and u.
func (sh *shader) edge(k, l int, t, u int32) float32 {
	switch {
	case t == -1 || u == -1:
		return stepLine
	case t <= -2 || u <= -2: // the rim of a cut face
		return cutLine
	}
	n, m := sh.model.facing[t], sh.model.facing[u]
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
