package picture

import "image"

// samples are those of a pixel, in rows.
const samples = perSide * perSide

// painter paints the pixels of a row of quads of cells.
type painter struct {
	*shader
	img     *image.RGBA
	columns []int32 // by column of samples: what all those round the row's pixels are on, or mixed
	last    int32   // the flat triangle that light is of
	light   light
}

// mixed stands for samples that are not all on one triangle.
const mixed = -1 << 31

func (sh *shader) paintRow(img *image.RGBA, j int) {
	p := painter{shader: sh, img: img, columns: make([]int32, sh.width), last: -1}
	p.compare(j)
	for i := -1; i < sh.cells.width; i++ {
		p.quad(i, j)
	}
}

// quadSamples are along the side of a quad's pixels, with those beside them.
const quadSamples = perSide*perCell + 2

// compare finds the columns of samples that are on one triangle, from the row over
// the quads' pixels to that under them.
func (p *painter) compare(j int) {
	top := perSide*firstPixel(j) - 1
	if top < 0 || top+quadSamples > p.height {
		for x := range p.columns {
			p.columns[x] = mixed
		}
		return
	}
	copy(p.columns, p.triangle[top*p.width:])
	for y := top + 1; y < top+quadSamples; y++ {
		row := p.triangle[y*p.width:][:len(p.columns)]
		for x, t := range row {
			if p.columns[x] != t {
				p.columns[x] = mixed
			}
		}
	}
}

// only is what all samples of a quad's pixels and those beside them are on, so that no
// line can run there; else mixed.
func (p *painter) only(i int) int32 {
	left := perSide*firstPixel(i) - 1
	if left < 0 || left+quadSamples > p.width {
		return mixed
	}
	c := p.columns[left:][:quadSamples]
	for _, t := range c[1:] {
		if t != c[0] {
			return mixed
		}
	}
	return c[0]
}

// quad paints the pixels of a quad.
func (p *painter) quad(i, j int) {
	t := p.only(i)
	if t == -1 && p.floor == nil {
		t = mixed
	}
	near := p.reach(i, j)
	for k := range quadShares {
		x, y := firstPixel(i)+k%perCell, firstPixel(j)+k/perCell
		if uint(x) >= uint(p.scene.Width) || uint(y) >= uint(p.scene.Height) {
			continue
		}
		if near.share = quadShares[k]; t >= 0 {
			p.inner(x, y, t, &near)
		} else if t == -1 {
			open, main := p.mean(&near)
			p.set(x, y, vec3{}, p.back.mul(onFloor(open, main)), 0)
		} else {
			p.rim(x, y, &near)
		}
	}
}

// inner paints a pixel that is within triangle t, as are the cells round it.
func (p *painter) inner(x, y int, t int32, near *reach) {
	if f := p.model.face(t); t != p.last || !f.flat {
		p.light, p.last = lightOn(f.normal(perSide*x, perSide*y)), t
	}
	open, lamp := p.mean(near)
	p.set(x, y, p.light.seen(p.paints[p.model.mesh[t]], open, lamp).mul(samples), vec3{}, samples)
}

// rim paints a pixel where triangles meet, or that is partly covered.
func (p *painter) rim(x, y int, near *reach) {
	first := perSide*y*p.width + perSide*x
	at := [samples]int{first, first + 1, first + p.width, first + p.width + 1}
	var on [samples]int32
	covered := 0
	for s, k := range at {
		if on[s] = p.triangle[k]; on[s] != -1 {
			covered++
		}
	}
	var sum vec3
	if covered > 0 {
		lines, smooth := p.lines(x, y, &at, &on)
		if smooth {
			sum = p.smooth(x, y, &on, near).mul(lines[0] + lines[1] + lines[2] + lines[3])
		} else {
			sum = p.each(x, y, &on, near, &lines)
		}
	}
	ground := p.back
	if p.floor != nil && covered < samples {
		open, main := p.mean(near)
		if near.apart {
			place, normal := p.ground(perSide*x, perSide*y)
			open, main = p.of(near, place, normal)
		}
		ground = ground.mul(onFloor(open, main))
	}
	p.set(x, y, sum, ground, covered)
}

// smooth is the light of a pixel whose samples are on one smooth surface.
func (p *painter) smooth(x, y int, on *[samples]int32, near *reach) vec3 {
	sx, sy := perSide*x, perSide*y
	n := p.normal(sx, sy, on[0])
	if on[3] != on[0] {
		n = n.add(p.normal(sx+1, sy+1, on[3])).unit()
	}
	return p.lit(sx, sy, on[0], n, near)
}

// each adds up the light of samples, each with its line.
func (p *painter) each(x, y int, on *[samples]int32, near *reach, lines *[samples]float32) (sum vec3) {
	last := int32(-1)
	var lit vec3
	for s, t := range on {
		if t == -1 {
			continue
		}
		sx, sy := perSide*x+s%perSide, perSide*y+s/perSide
		if mesh, ok := capped(t); ok {
			lit = p.cutLight(mesh, sx, sy)
		} else if t != last {
			lit = p.lit(sx, sy, t, p.normal(sx, sy, t), near)
		}
		last = t
		sum = sum.add(lit.mul(lines[s]))
	}
	return sum
}

// lit returns the light that triangle t sends to the viewer, where it is as open
// to the sky, and gets as much of the main lamp, as what is near.
func (p *painter) lit(sx, sy int, t int32, n vec3, near *reach) vec3 {
	open, lamp := p.mean(near)
	if near.apart {
		open, lamp = p.of(near, p.at(sx, sy), n)
	}
	l := lightOn(n)
	return l.seen(p.paints[p.model.mesh[t]], open, lamp)
}

// reach is what the cells round a pixel have found of how open it is and of its
// share of the main light.
type reach struct {
	around
	same       bool // they have found the same
	open, main float32
	apart      bool // they have not, and do not show one surface
}

func (sh *shader) reach(i, j int) reach {
	r := reach{around: sh.cells.quad(i, j)}
	if r.same = !r.differ(sh.open.open) && !r.differ(sh.shadows.hidden); r.same {
		r.share = quadShares[0]
		r.open, r.main = r.around.mean(sh.open.open), sh.shadows.light(&r.around)
		return r
	}
	r.apart = !r.level(sh.cells)
	return r
}

// mean is what holds for a pixel that lies as all the cells round it do.
func (sh *shader) mean(r *reach) (open, main float32) {
	if r.same {
		return r.open, r.main
	}
	return r.around.mean(sh.open.open), sh.shadows.light(&r.around)
}

// of is what of that holds for a place with a normal: what those cells say that
// lie as it does.
func (sh *shader) of(r *reach, place, normal vec3) (open, main float32) {
	a := r.around
	a.weigh(sh.cells, place, normal)
	return a.mean(sh.open.open), sh.shadows.light(&a)
}

// onFloor is how bright the floor is, 1 without shadow.
func onFloor(open, main float32) float32 {
	return (1 - floorSky*(1-open)) * (1 - floorMain*(1-main))
}

// set mixes the light of the covered samples with the ground's.
func (p *painter) set(x, y int, sum, ground vec3, covered int) {
	back := p.scene.Background
	if covered == 0 && p.floor == nil {
		p.img.SetRGBA(x, y, back)
		return
	}
	share := float32(covered) / samples
	c := sum.mul(1.0 / samples).add(ground.mul(1 - share))
	pixel := p.img.Pix[y*p.img.Stride+4*x:][:4:4]
	if covered == samples || back.A == 255 {
		pixel[0], pixel[1], pixel[2], pixel[3] = p.byteOf(c.x), p.byteOf(c.y), p.byteOf(c.z), 255
		return
	}
	// With a background that is not solid, colours are stored multiplied by
	// their alpha, as image.RGBA wants.
	alpha := share + (1-share)*float32(back.A)/255
	times := func(v float32) uint8 { return uint8(float32(p.byteOf(v/alpha))*alpha + 0.5) }
	pixel[0], pixel[1], pixel[2], pixel[3] = times(c.x), times(c.y), times(c.z), uint8(alpha*255+0.5)
}

// byteOf is the picture's byte for a linear light.
func (sh *shader) byteOf(v float32) uint8 {
	most := len(sh.encoded) - 1
	if !(v > 0) {
		return sh.encoded[0]
	} else if v >= 1 {
		return sh.encoded[most]
	}
	return sh.encoded[int(v*float32(most)+0.5)]
}
