package pourplan

import (
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
)

// MMPerUnit is one unit of the head's file in mm; 1 for a unit that a checked
// job cannot have.
func (t HeadTable) MMPerUnit() float64 {
	switch t.Unit {
	case "mm", "cm", "m", "in", "ft":
		return lengthDim.units[t.Unit]
	}
	return 1
}

func (t HeadTable) pose() moldbox.Pose {
	return moldbox.Pose{Nose: geom.Vec(t.Nose), Back: geom.Vec(t.Back), Parting: t.Parting.MM(t.MMPerUnit())}
}

// Spec returns the shape of the job's mold. load gives the solid of a head
// file in the file's own unit as if that were mm; it is asked once for each
// file. An error of load comes back as it is, wrapped with the file's key. In
// place of a hook's body stands a usual hook.
func (j *Job) Spec(load func(file string) (geom.Solid, error)) (moldbox.Spec, error) {
	return j.SpecWithBodies(load, Bodies{})
}

// Bodies give what is measured of the bodies of wires in files, the files' unit in mm.
type Bodies struct {
	Hook func(file string, mmPerUnit float64) (*moldbox.HookBody, error)
	Wire func(file string, mmPerUnit float64) (*moldbox.WireBody, error)

	// Bored gives the head of a cavity without the bores for its wires.
	Bored func(t HeadTable, v moldbox.Cavity) (geom.Solid, error)
}

// SpecWithBodies is Spec with the bodies of hooks and keepers that have a file.
func (j *Job) SpecWithBodies(load func(file string) (geom.Solid, error), bodies Bodies) (moldbox.Spec, error) {
	metal, err := j.Metal.resolve()
	if err != nil {
		return moldbox.Spec{}, err
	}
	rubber, err := j.Rubber.resolve()
	if err != nil {
		return moldbox.Spec{}, err
	}
	s := j.shape()
	s.Checks.Undercut = j.undercut()
	s.Title = j.Title
	s.Marking.Lines = j.markingLines()
	heads := headShelf{load: load, loaded: map[string]geom.Solid{}, sized: map[[2]string]geom.Solid{}}
	for i, c := range j.Placed() {
		v := c.cavity()
		if err := j.layBodies(c, &v, s, bodies); err != nil {
			return moldbox.Spec{}, err
		}
		if v.MetalVolume, err = c.metalVolume(j.inCavity(i, metal), v); err != nil {
			return moldbox.Spec{}, err
		}
		if v.Head, err = heads.get(c.Head); err != nil {
			return moldbox.Spec{}, err
		}
		if bodies.Bored != nil {
			if v.Head, err = bodies.Bored(c.Head, v); err != nil {
				return moldbox.Spec{}, err
			}
		}
		if v.Name == "" {
			v.Name = fmt.Sprintf("cavity %d", i+1)
		}
		v.Shrink = shrinkFactor(metal, rubber, float64(j.Casting.Mold))
		s.Cavities = append(s.Cavities, v)
	}
	return s, nil
}

// headShelf keeps the solids of head files, so that equal cavities hold equal
// solids.
type headShelf struct {
	load   func(string) (geom.Solid, error)
	loaded map[string]geom.Solid
	sized  map[[2]string]geom.Solid // by file and unit
}

func (h headShelf) get(t HeadTable) (geom.Solid, error) {
	solid, ok := h.loaded[t.File]
	if !ok {
		var err error
		if solid, err = h.load(t.File); err != nil {
			return nil, fmt.Errorf("head.file: %w", err)
		}
		h.loaded[t.File] = solid
	}
	size := t.MMPerUnit()
	if size == 1 {
		return solid, nil
	}
	key := [2]string{t.File, t.Unit}
	if _, ok := h.sized[key]; !ok {
		h.sized[key] = geom.Scale(size).Solid(solid)
	}
	return h.sized[key], nil
}

// shape is the Spec without cavities and marking.
func (j *Job) shape() moldbox.Spec {
	s := moldbox.Spec{
		Layout:  moldbox.LayoutSpec(j.Layout),
		Frame:   moldbox.FrameSpec(j.Frame),
		Keys:    moldbox.KeySpec(j.Keys),
		Sprue:   moldbox.SprueSpec(j.Sprue),
		Vents:   moldbox.VentSpec(j.Vents),
		Finish:  moldbox.FinishSpec{SealCoat: float64(j.Finish.SealCoat)},
		Marking: moldbox.MarkingSpec{Height: float64(j.Marking.Height), Relief: float64(j.Marking.Relief)},
		Print:   j.Print.PrintSpec,
		Checks:  j.Checks.CheckSpec,
	}
	s.Print.Layers = j.Print.layers(j.Plastic.Name)
	if j.Runner != nil {
		s.Runner = moldbox.RunnerSpec(*j.Runner)
		s.Runner.On = true
	}
	return s
}

// cavity is a cavity without its head, metal and shrinkage.
func (c CavityTable) cavity() moldbox.Cavity {
	unit := c.Head.MMPerUnit()
	v := moldbox.Cavity{
		Name: c.Name,
		Pose: c.Head.pose(),
		Turn: float64(c.Turn.Angle), AutoTurn: c.Turn.Auto,
		Scale:  c.Weight.Scale,
		Anchor: moldbox.Anchor(c.Weight.Anchor),
		Wall:   float64(c.Weight.Wall),

		KeepBores: c.Head.Bores == "keep",
	}
	if c.Head.Eye != nil {
		v.Eye = c.Head.Eye.vec(unit)
	}
	if c.Head.Gate != nil {
		gate := c.Head.Gate.vec(unit)
		v.Gate = &gate
	}
	if c.Hook != nil {
		hook := c.Hook.wire()
		v.Hook = &hook
	}
	for _, k := range c.Keeper {
		v.Keepers = append(v.Keepers, k.shape(unit))
	}
	return v
}

func (p Point) vec(unit float64) geom.Vec {
	return geom.Vec{X: p[0].MM(unit), Y: p[1].MM(unit), Z: p[2].MM(unit)}
}

// markingLines are the job's, or the title and the weight that all cavities
// are to have.
func (j *Job) markingLines() []string {
	if j.Marking.Lines != nil {
		return *j.Marking.Lines
	}
	var lines []string
	title := j.Title
	if j.family != nil {
		title = *j.family // the weight tells the size
	}
	if title != "" {
		lines = append(lines, title)
	}
	placed := j.Placed()
	target := placed[0].Weight.Target
	for _, c := range placed {
		if c.Weight.Target != target {
			return lines
		}
	}
	if target > 0 {
		lines = append(lines, markedMass(float64(target)))
	}
	return lines
}

// markedMass is short enough to stand on a mold: "3/8 oz" when ounces come to
// a fraction, else grams.
func markedMass(g float64) string {
	if oz := ounces(g / GramPerOz); len(oz) < 5 || oz[1] == ' ' {
		return oz + " oz"
	}
	return FormatNumber(g, 1) + " g"
}

// usualHardness is taken where the rubber's is not known, and givesWay is the
// undercut times the hardness that rubber gives way to without tearing: 4 mm at
// Shore A 10, 2 mm at 20, 1 mm at 40 (common practice, no source).
const usualHardness, givesWay = 40, 40

// undercut is how far the rubber gives way, mm.
func (j *Job) undercut() float64 {
	switch {
	case j.Checks.Undercut != nil:
		return float64(*j.Checks.Undercut)
	case j.Rubber.Hardness > 0:
		return givesWay / j.Rubber.Hardness
	}
	return givesWay / usualHardness
}
