package picture

// Edges of the model show as lines: by how much they change the light.
const (
	creaseCosine = 0.88 // facets that meet at more than 28° get a line
	hollowLine   = 0.55
	ridgeLine    = 1.18
	stepLine     = 0.45
	cutLine      = 0.25
)

// alone is the triangle that all samples of a pixel and those beside them are on,
// so that no line can run there; -1 if there is none.
func (sh *shader) alone(x, y int) int32 {
	if x == 0 || y == 0 || x == sh.scene.Width-1 || y == sh.scene.Height-1 {
		return -1
	}
	first := perSide*y*sh.width + perSide*x
	t := sh.triangle[first]
	for row := -1; row <= perSide; row++ {
		from := first + row*sh.width
		samples := sh.triangle[from : from+perSide]
		if row >= 0 && row < perSide {
			samples = sh.triangle[from-1 : from+perSide+1]
		}
		for _, u := range samples {
			if u != t {
				return -1
			}
		}
	}
	return t
}

// facet returns the true normal of what is at a sample, in camera axes.
func (sh *shader) facet(t int32) vec3 {
	if mesh, ok := capped(t); ok {
		return sh.planes[mesh].face
	}
	return sh.model.facing[t]
}

// line returns by how much an edge of the model at this sample changes its
// light: a step in depth and a hollow darken, a ridge lightens.
func (sh *shader) line(sx, sy int, t int32) float32 {
	factor := float32(1)
	var p vec3
	placed := false
	for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		x, y := sx+d[0], sy+d[1]
		if x < 0 || y < 0 || x >= sh.width || y >= sh.height {
			continue
		}
		u := sh.triangle[y*sh.width+x]
		if u == t {
			continue
		}
		if u == -1 {
			factor = min(factor, stepLine)
			continue
		}
		if t <= -2 || u <= -2 { // the rim of a cut face
			factor = min(factor, cutLine)
			continue
		}
		if !placed {
			p, placed = sh.at(sx, sy), true
		}
		factor = join(factor, sh.meeting(t, u, sh.at(x, y).sub(p)))
	}
	return factor
}

// meeting judges two neighbouring samples on triangles t and u, step apart.
func (sh *shader) meeting(t, u int32, step vec3) float32 {
	n, m := sh.facet(t), sh.facet(u)
	high, deep := n.dot(step), m.dot(step)
	limit := 1.5 * sh.pixel
	if (high > limit || high < -limit) && (deep > limit || deep < -limit) {
		return stepLine
	}
	switch {
	case n.dot(m) > creaseCosine:
		return 1
	case m.sub(n).dot(step) < 0:
		return hollowLine
	}
	return ridgeLine
}

// join keeps the darker of two lines, and a lighter one where there is none.
func join(a, b float32) float32 {
	if a < 1 || b < 1 {
		return min(a, b)
	}
	return max(a, b)
}
