package picture

import (
	"context"
	"image"
	"image/color"
	"math"

	"halfpour/geom/parallel"
)

// shader turns a raster into a picture.
type shader struct {
	scene Scene
	model *model
	view  *view
	*raster
	pixel   float32 // mm
	cells   *cells
	open    *openness
	shadows *shadows
	floor   *cutPlane   // nil without one
	planes  []*cutPlane // of the meshes, nil for those that are whole
	paints  []vec3      // of the meshes, linear
	faces   []vec3      // of their cut faces
	back    vec3        // of the picture
	encoded []uint8     // from linear light, 0 to 1 in even steps, to the picture's bytes
}

// light comes from a direction in camera axes.
type light struct {
	from     vec3
	strength float32
}

// The lights, by eye: the main light low enough to rake over shallow relief
// that faces the viewer.
var (
	mainLight = light{vec3{-0.6, 0.56, 0.62}.unit(), 0.98}
	sideLight = light{vec3{0.8, -0.25, 0.5}.unit(), 0.20}
	glint     = mainLight.from.add(vec3{0, 0, 1}).unit() // half-way to the viewer
)

const (
	skyLight    = 0.30 // from above, and
	groundLight = 0.10 // from below, on what is open to them
	gloss       = 0.16
	glossPower  = 5 // squarings: (n·h)^32

	floorSky, floorMain = 0.4, 0.5 // how dark the floor gets without either light

	hatchStep, hatchLine = 11.0, 1.6 // pixels from line to line, and of a line, in a picture 1000 high
	hatchShade           = 0.72
)

func newShader(s Scene, m *model, v *view, planes []*cutPlane, r *raster) *shader {
	sh := &shader{scene: s, model: m, view: v, raster: r, planes: planes, pixel: float32(v.pixel)}
	sh.cells = newCells(s, sh.pixel)
	sh.open = newOpenness(sh.cells, s.Height)
	sh.shadows = newShadows(sh.cells, s.Height)
	for _, p := range s.Meshes {
		sh.paints = append(sh.paints, linear(p.Colour))
		face := vec3{}
		if p.Cut != nil {
			face = linear(p.Cut.Colour)
		}
		sh.faces = append(sh.faces, face)
	}
	sh.back = linear(s.Background)
	sh.encoded = make([]uint8, 4096)
	for i := range sh.encoded {
		sh.encoded[i] = encode(float64(i) / float64(len(sh.encoded)-1))
	}
	return sh
}

// linear and encode go between the bytes of a picture and light (IEC
// 61966-2-1, sRGB).
func linear(c color.RGBA) vec3 {
	f := func(b uint8) float32 {
		v := float64(b) / 255
		if v <= 0.04045 {
			return float32(v / 12.92)
		}
		return float32(math.Pow((v+0.055)/1.055, 2.4))
	}
	return vec3{f(c.R), f(c.G), f(c.B)}
}

func encode(v float64) uint8 {
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return uint8(math.Round(255 * v))
}

// paint draws the picture in passes over its rows: what is where, how open
// that is, and the light on it.
func (sh *shader) paint(ctx context.Context) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rect(0, 0, sh.scene.Width, sh.scene.Height))
	c, o, dark := sh.cells, sh.open, sh.shadows
	open, hidden := make([]float32, len(o.open)), make([]float32, len(o.open))
	for _, pass := range []struct {
		rows int
		do   func(j int)
	}{
		{c.height, func(y int) { c.look(sh, y) }},
		{c.blockRows(), func(j int) { c.first(open, j, o.ask); c.first(hidden, j, dark.ask) }},
		{c.blockRows(), func(j int) { c.rest(open, j, 1, o.ask); c.rest(hidden, j, 0, dark.ask) }},
		{c.height, func(y int) { c.even(o.open, open, y); c.even(dark.hidden, hidden, y) }},
		{sh.scene.Height, func(y int) { sh.paintRow(img, y) }},
	} {
		if err := parallel.For(ctx, pass.rows, sh.scene.Workers, pass.do); err != nil {
			return nil, err
		}
	}
	return img, nil
}

func (sh *shader) paintRow(img *image.RGBA, y int) {
	for x := range sh.scene.Width {
		var sum vec3
		covered, last := 0, int32(-1)
		var light vec3
		near := sh.reach(x, y)
		if t := sh.alone(x, y); t >= 0 {
			sh.set(img, x, y, sh.lit(perSide*x, perSide*y, t, &near).mul(perSide*perSide), vec3{}, perSide*perSide)
			continue
		}
		for s := range perSide * perSide {
			sx, sy := perSide*x+s%perSide, perSide*y+s/perSide
			t := sh.triangle[sy*sh.width+sx]
			if t == -1 {
				continue
			}
			covered++
			if t != last || t <= -2 {
				light, last = sh.lit(sx, sy, t, &near), t
			}
			sum = sum.add(light.mul(sh.line(sx, sy, t)))
		}
		ground := sh.back
		if sh.floor != nil && covered < perSide*perSide {
			ground = ground.mul(sh.onFloor(x, y, &near))
		}
		sh.set(img, x, y, sum, ground, covered)
	}
}

// reach is what the cells round a pixel have found of how open it is and of its
// share of the main light.
type reach struct {
	around
	apart      bool // they have not found the same
	open, main float32
}

func (sh *shader) reach(x, y int) reach {
	r := reach{around: sh.cells.around(x, y)}
	if r.apart = r.differ(sh.open.open) || r.differ(sh.shadows.hidden); !r.apart {
		r.open, r.main = r.mean(sh.open.open), sh.shadows.light(&r.around)
	}
	return r
}

// of is what of that holds for a place with a normal: what those cells say that
// lie as it does.
func (sh *shader) of(r *reach, place, normal vec3) (open, main float32) {
	a := r.around
	a.weigh(sh.cells, place, normal)
	return a.mean(sh.open.open), sh.shadows.light(&a)
}

// onFloor is how bright the floor is at a pixel, 1 without shadow.
func (sh *shader) onFloor(x, y int, near *reach) float32 {
	open, main := near.open, near.main
	if near.apart {
		place, normal := sh.ground(perSide*x, perSide*y)
		open, main = sh.of(near, place, normal)
	}
	return (1 - floorSky*(1-open)) * (1 - floorMain*(1-main))
}

// set mixes the light of the covered samples with the ground's.
func (sh *shader) set(img *image.RGBA, x, y int, sum, ground vec3, covered int) {
	back := sh.scene.Background
	if covered == 0 && sh.floor == nil {
		img.SetRGBA(x, y, back)
		return
	}
	const all = perSide * perSide
	share := float32(covered) / all
	// With a background that is not solid, colours are stored multiplied by
	// their alpha, as image.RGBA wants.
	alpha := share + (1-share)*float32(back.A)/255
	c := sum.mul(1.0 / all).add(ground.mul(1 - share)).mul(1 / alpha)
	byteOf := func(v float32) uint8 {
		e := sh.encoded[int(min(max(v, 0), 1)*float32(len(sh.encoded)-1)+0.5)]
		return uint8(float32(e)*alpha + 0.5)
	}
	img.SetRGBA(x, y, color.RGBA{byteOf(c.x), byteOf(c.y), byteOf(c.z), uint8(alpha*255 + 0.5)})
}

// at returns the place of a sample on its triangle, in camera axes.
func (sh *shader) at(sx, sy int) vec3 {
	near := sh.near[sy*sh.width+sx]
	return sh.view.place((float32(sx)+0.5)/perSide, (float32(sy)+0.5)/perSide, near)
}

// normal returns the shading normal of triangle t at a sample, in camera axes.
func (sh *shader) normal(sx, sy int, t int32) vec3 {
	if mesh, ok := capped(t); ok {
		return sh.planes[mesh].face
	}
	n := sh.model.corners[t]
	if n[0] == n[1] && n[1] == n[2] {
		return n[0]
	}
	i := sh.model.triangles[t]
	a, b, c := sh.spots[i[0]], sh.spots[i[1]], sh.spots[i[2]]
	const half = latticeStep / 2
	p := spot{x: int64(sx)*latticeStep + half, y: int64(sy)*latticeStep + half}
	area := float32(doubleArea(a, b, c))
	wa, wb := float32(doubleArea(p, b, c))/area, float32(doubleArea(a, p, c))/area
	sum := n[0].mul(wa).add(n[1].mul(wb)).add(n[2].mul(1 - wa - wb))
	return sum.unit()
}

// lit returns the light that triangle t sends to the viewer, where it is as open
// to the sky, and gets as much of the main lamp, as what is near.
func (sh *shader) lit(sx, sy int, t int32, near *reach) vec3 {
	if mesh, ok := capped(t); ok {
		return sh.cutLight(mesh, sx, sy)
	}
	n := sh.normal(sx, sy, t)
	open, lamp := near.open, near.main
	if near.apart {
		open, lamp = sh.of(near, sh.at(sx, sy), n)
	}
	sky := groundLight + (skyLight-groundLight)*(n.y+1)/2
	main := max(0, n.dot(mainLight.from)) * mainLight.strength * lamp
	side := (0.5 + 0.5*n.dot(sideLight.from)) * sideLight.strength // soft, from a wide lamp
	spec := max(0, n.dot(glint))
	for range glossPower {
		spec *= spec
	}
	// Light from one side is half as much kept out of hollows as light from
	// all round.
	diffuse := sky*open + (main+side)*(0.5+0.5*open)
	shine := gloss * spec * open * lamp
	return sh.paints[sh.model.mesh[t]].mul(diffuse).add(vec3{shine, shine, shine})
}

// cutLight is the light of a cut face: flat and hatched, as in a drawing.
func (sh *shader) cutLight(mesh, sx, sy int) vec3 {
	face := sh.faces[mesh]
	lean := float64(sh.scene.Meshes[mesh].Cut.Hatch)
	if lean == 0 {
		return face
	}
	size := float64(perSide*sh.scene.Height) / 1000
	_, at := math.Modf((float64(sx)*lean+float64(sy))/(hatchStep*math.Sqrt2*size) + 1000)
	if at*hatchStep < hatchLine {
		return face.mul(hatchShade)
	}
	return face
}
