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

// lines are by how much edges of the model change the light of the samples of a quad's
// pixels: a step in depth and a hollow darken, a ridge lightens.
type lines struct {
	of    [patchSide * patchSide]float32
	rough [samples]bool // pixels that are on several meshes or have an edge within
}

// draw finds the lines between a quad's samples and to those beside them.
func (sh *shader) draw(l *lines, p *patch) {
	*l = lines{of: noLines}
	const lo, hi = quadSample - 1, quadSample + cellSide // the samples beside a quad
	left, right := max(lo, -p.x), min(hi, perSide*sh.scene.Width-1-p.x)
	top, bottom := max(lo, -p.y), min(hi, perSide*sh.scene.Height-1-p.y)
	for y := max(lo+1, top); y <= min(hi-1, bottom); y++ {
		for x := left; x < right; x++ {
			if k := y*patchSide + x; p.on[k] != p.on[k+1] {
				sh.line(l, p, k, k+1, x%perSide == 0)
			}
		}
	}
	for y := top; y < bottom; y++ {
		for x := max(lo+1, left); x <= min(hi-1, right); x++ {
			if k := y*patchSide + x; p.on[k] != p.on[k+patchSide] {
				sh.line(l, p, k, k+patchSide, y%perSide == 0)
			}
		}
	}
}

// quadSample is the first sample of a quad in its patch.
const quadSample = perSide

var noLines = func() (of [patchSide * patchSide]float32) {
	for k := range of {
		of[k] = 1
	}
	return of
}()

// line draws the line between two neighbouring samples, within a pixel or not.
func (sh *shader) line(l *lines, p *patch, k, m int, within bool) {
	f := sh.edge(p, k, m)
	l.of[k], l.of[m] = join(l.of[k], f), join(l.of[m], f)
	if t, u := p.on[k], p.on[m]; within && (f != 1 || t <= 0 || u <= 0 || sh.model.faces[t].mesh != sh.model.faces[u].mesh) {
		x, y := k%patchSide-quadSample, k/patchSide-quadSample
		l.rough[y/perSide*perCell+x/perSide] = true
	}
}

// edge judges two neighbouring samples.
func (sh *shader) edge(p *patch, k, l int) float32 {
	t, u := p.on[k], p.on[l]
	switch {
	case t == 0 || u == 0:
		return stepLine
	case t < 0 || u < 0: // the rim of a cut face
		return cutLine
	}
	f, g := &sh.model.faces[t], &sh.model.faces[u]
	if f.calm && g.calm && sh.evenDepth(p.near[k], p.near[l]) {
		return 1
	}
	return sh.meeting(p, k, l, f.facing, g.facing)
}

// meeting is the line where two triangles that face ways n and m meet between
// neighbouring samples.
func (sh *shader) meeting(p *patch, k, l int, n, m vec3) float32 {
	cosine := n.dot(m)
	if cosine > creaseCosine && sh.evenDepth(p.near[k], p.near[l]) {
		return 1
	}
	step := sh.place(p, l).sub(sh.place(p, k))
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

// place is that of a sample of a patch, in camera axes.
func (sh *shader) place(p *patch, k int) vec3 {
	return sh.at(p.x+k%patchSide, p.y+k/patchSide, p.near[k])
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
