package picture

import (
	"context"
	"image"
	"image/color"
	"math"
	"slices"

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
	level   float32     // mm of depth from a sample to the next that are no step
}

// lamp is a light from a direction in camera axes.
type lamp struct {
	from     vec3
	strength float32
}

// The lights, by eye: the main light low enough to rake over shallow relief
// that faces the viewer.
var (
	mainLamp = lamp{vec3{-0.6, 0.56, 0.62}.unit(), 0.98}
	sideLamp = lamp{vec3{0.8, -0.25, 0.5}.unit(), 0.20}
	glint    = mainLamp.from.add(vec3{0, 0, 1}).unit() // half-way to the viewer
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
	sh.open = newOpenness(sh.cells, s)
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
	sh.level = levelOf(s, sh.pixel)
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
	all := []asked{{open, o.askAll, o.ask, 1}, {hidden, dark.askAll, dark.ask, 0}}
	c.findBare(sh.raster, slices.Concat(o.reach(), dark.reach()))
	for _, pass := range []struct {
		rows int
		do   func(j int)
	}{
		{c.height, func(y int) { c.look(sh, y) }},
		{c.blockRows(), func(j int) { c.first(j, all...) }},
		{c.blockRows(), func(j int) { c.rest(j, all...) }},
		{c.height, func(y int) { c.even([2][]float32{o.open, dark.hidden}, [2][]float32{open, hidden}, y) }},
		{c.height + 1, func(y int) { sh.paintRow(img, y-1) }},
	} {
		if err := parallel.For(ctx, pass.rows, sh.scene.Workers, pass.do); err != nil {
			return nil, err
		}
	}
	return img, nil
}

// at returns the place of a sample that is so near, in camera axes.
func (sh *shader) at(sx, sy int, near float32) vec3 {
	return sh.view.place((float32(sx)+0.5)/perSide, (float32(sy)+0.5)/perSide, near)
}

// normal returns the shading normal at a sample of what it is on, in camera axes.
func (sh *shader) normal(sx, sy int, on int32) vec3 {
	if mesh, ok := capped(on); ok {
		return sh.planes[mesh].face
	}
	return sh.model.faces[on].normal(sx, sy)
}

// light is what of the lamps falls on a surface that faces one way, before what
// stands round it takes its part.
type light struct{ sky, main, side, glint float32 }

func lightOn(n vec3) light {
	l := light{sky: groundLight + (skyLight-groundLight)*(n.y+1)/2}
	l.main = max(0, n.dot(mainLamp.from)) * mainLamp.strength
	l.side = (0.5 + 0.5*n.dot(sideLamp.from)) * sideLamp.strength // soft, from a wide lamp
	l.glint = max(0, n.dot(glint))
	for range glossPower {
		l.glint *= l.glint
	}
	return l
}

// seen is what the viewer sees of it on a paint, where it is so open to the sky and
// gets so much of the main lamp.
func (l *light) seen(paint vec3, open, lamp float32) vec3 {
	// Light from one side is half as much kept out of hollows as light from
	// all round.
	diffuse := l.sky*open + (l.main*lamp+l.side)*(0.5+0.5*open)
	shine := gloss * l.glint * open * lamp
	return vec3{paint.x*diffuse + shine, paint.y*diffuse + shine, paint.z*diffuse + shine}
}

// cutLight is the light of a cut face: flat and hatched, as in a drawing.
func (sh *shader) cutLight(mesh, sx, sy int) vec3 {
	face := sh.faces[mesh]
	lean := float64(sh.scene.Meshes[mesh].Cut.Hatch)
	if lean == 0 {
		return face
	}
	size := float64(perSide*sh.scene.Height) / 1000
	at := (float64(sx)*lean+float64(sy))/(hatchStep*math.Sqrt2*size) + 1000
	at -= float64(int(at))
	if at*hatchStep < hatchLine {
		return face.mul(hatchShade)
	}
	return face
}
