package picture

import "image"

// samples are those of a pixel, in rows.
const samples = perSide * perSide

// painter paints the pixels of a row of quads of cells.
type painter struct {
	*shader
	img   *image.RGBA
	last  int32 // the flat face that light is of
	light light
	even  evenColour
	patch patch
	lines lines
}

// evenColour is what was painted last where all is alike, and what it comes from.
type evenColour struct {
	on         int32
	open, main float32
	colour     [4]uint8
}

func (sh *shader) paintRow(img *image.RGBA, j int) {
	p := painter{shader: sh, img: img, even: evenColour{on: mixed}}
	for i := -1; i < sh.cells.width; i++ {
		if n := sh.cells.bareQuads(i, j); n > 0 {
			p.bare(i, j, n)
			i += n - 1
		} else {
			p.quad(i, j)
		}
	}
}

// bare paints some quads with nothing of the model in their surroundings.
func (p *painter) bare(i, j, quads int) {
	x0, x1 := firstPixel(i), min(firstPixel(i+quads), p.scene.Width)
	for y := firstPixel(j); y < min(firstPixel(j+1), p.scene.Height); y++ {
		p.set(x0, y, vec3{}, p.back, 0)
		row := p.img.Pix[y*p.img.Stride:]
		for x := x0 + 1; x < x1; x++ {
			copy(row[4*x:4*x+4], row[4*x0:])
		}
	}
}

// quad paints the pixels of a quad.
func (p *painter) quad(i, j int) {
	near := p.reach(i, j)
	t := p.only[near.cell[0]]
	if t < 0 || t == 0 && p.floor == nil || p.only[near.cell[1]] != t || p.only[near.cell[2]] != t || p.only[near.cell[3]] != t {
		t = mixed
	}
	if near.same && (t == 0 || t > 0 && p.model.faces[t].flat) {
		p.alike(i, j, t, &near)
		return
	}
	if t == mixed {
		near.apart = !near.same && !near.level(p.cells)
		p.patch.gather(p.shader, i, j, &near.cell)
		p.draw(&p.lines, &p.patch)
	}
	for k := range quadShares {
		x, y := firstPixel(i)+k%perCell, firstPixel(j)+k/perCell
		if uint(x) >= uint(p.scene.Width) || uint(y) >= uint(p.scene.Height) {
			continue
		}
		if near.share = quadShares[k]; t > 0 {
			p.inner(x, y, t, &near)
		} else if t == 0 {
			open, main := p.mean(&near)
			p.set(x, y, vec3{}, p.back.mul(onFloor(open, main)), 0)
		} else {
			p.rim(x, y, k, &near)
		}
	}
}

// alike paints a quad that is all the floor or one flat face, in one light.
func (p *painter) alike(i, j int, t int32, near *reach) {
	e := &p.even
	again := e.on == t && e.open == near.open && e.main == near.main
	for k := range quadShares {
		x, y := firstPixel(i)+k%perCell, firstPixel(j)+k/perCell
		if uint(x) >= uint(p.scene.Width) || uint(y) >= uint(p.scene.Height) {
			continue
		}
		pixel := (*[4]uint8)(p.img.Pix[y*p.img.Stride+4*x:])
		switch {
		case again:
			*pixel = e.colour
			continue
		case t > 0:
			p.inner(x, y, t, near)
		default:
			p.set(x, y, vec3{}, p.back.mul(onFloor(near.open, near.main)), 0)
		}
		*e = evenColour{t, near.open, near.main, *pixel}
		again = true
	}
}

// inner paints a pixel that is within face t, as are the cells round it.
func (p *painter) inner(x, y int, t int32, near *reach) {
	f := &p.model.faces[t]
	if t != p.last || !f.flat {
		p.light, p.last = lightOn(f.normal(perSide*x, perSide*y)), t
	}
	open, lamp := p.mean(near)
	p.set(x, y, p.light.seen(p.paints[f.mesh], open, lamp).mul(samples), vec3{}, samples)
}

// rim paints pixel i of a quad, where faces meet, or that is partly covered.
func (p *painter) rim(x, y, i int, near *reach) {
	first := (quadSample+i/perCell*perSide)*patchSide + quadSample + i%perCell*perSide
	at := [samples]int{first, first + 1, first + patchSide, first + patchSide + 1}
	covered := 0
	for _, k := range at {
		if p.patch.on[k] != 0 {
			covered++
		}
	}
	var sum vec3
	switch {
	case covered == 0:
	case p.lines.rough[i] || p.patch.on[first] <= 0:
		sum = p.each(&at, near)
	default:
		sum = p.smooth(&at, near)
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
func (p *painter) smooth(at *[samples]int, near *reach) vec3 {
	n := p.facing(at[0])
	if p.patch.on[at[3]] != p.patch.on[at[0]] {
		n = n.add(p.facing(at[3])).unit()
	}
	l := &p.lines.of
	return p.lit(at[0], n, near).mul(l[at[0]] + l[at[1]] + l[at[2]] + l[at[3]])
}

// facing is the normal for shading at a sample of the patch.
func (p *painter) facing(k int) vec3 {
	return p.normal(p.patch.x+k%patchSide, p.patch.y+k/patchSide, p.patch.on[k])
}

// each adds up the light of samples, each with its line.
func (p *painter) each(at *[samples]int, near *reach) (sum vec3) {
	last := int32(0)
	var lit vec3
	for _, k := range at {
		t := p.patch.on[k]
		if t == 0 {
			continue
		}
		if mesh, ok := capped(t); ok {
			lit = p.cutLight(mesh, p.patch.x+k%patchSide, p.patch.y+k/patchSide)
		} else if t != last {
			lit = p.lit(k, p.facing(k), near)
		}
		last = t
		sum = sum.add(lit.mul(p.lines.of[k]))
	}
	return sum
}

// lit returns the light that sample k of the patch sends to the viewer, where it is as
// open to the sky, and gets as much of the main lamp, as what is near.
func (p *painter) lit(k int, n vec3, near *reach) vec3 {
	open, lamp := p.mean(near)
	if near.apart {
		open, lamp = p.of(near, p.place(&p.patch, k), n)
	}
	l := lightOn(n)
	return l.seen(p.paints[p.model.faces[p.patch.on[k]].mesh], open, lamp)
}

// reach is what the cells round a pixel have found of how open it is and of its
// share of the main light.
type reach struct {
	around
	same       bool // they have found the same
	open, main float32
	apart      bool // of a quad that is mixed: they have not, and do not show one surface
}

func (sh *shader) reach(i, j int) reach {
	r := reach{around: sh.cells.quad(i, j)}
	if r.same = !r.differ(sh.open.open) && !r.differ(sh.shadows.hidden); r.same {
		r.share = quadShares[0]
		r.open, r.main = r.around.mean(sh.open.open), sh.shadows.light(&r.around)
	}
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
