package pourplan

import (
	"fmt"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
)

// shape is the keeper's wire; unit is one of the head's file in mm.
func (k KeeperTable) shape(unit float64) moldbox.Keeper {
	s := k.Keeper
	for _, p := range k.Points {
		s.Points = append(s.Points, p.vec(unit))
	}
	if k.Step != nil {
		s.Step = k.step(unit)
	}
	return s
}

// check checks what goes together in a keeper; at turns a key into where it stands.
func (k *KeeperTable) check(f *faults, at func(key string) string, hooked bool) {
	f.missing(k, at)
	if k.File == "" && k.Wire == 0 {
		f.refuse(at("wire"), RuleMissing, keyNamed(k, "wire").hint, "is required")
	}
	if k.File == "" && len(k.Points) == 0 && len(k.InHook) == 0 {
		f.refuse(at("points"), RuleMissing, "write points = [[x, y, z], [x, y, z]], read off in CAD in the file's coordinates",
			"must give the wire's axis")
	}
	if onAnotherHost(k.File) {
		f.refuse(at("file"), RuleValue, "copy it next to the job, and name it there: file = \"keeper.stl\"", "must be a file on this computer, got %q", k.File)
	}
	for _, own := range k.keys() {
		if k.File != "" && slices.Contains([]string{"wire", "points", "in_hook", "bend"}, own.name) && !own.field().IsZero() {
			f.refuse(at(own.name), RuleConflict, "remove one of them", "cannot be used with file, the wire's body")
		}
	}
	if k.Mirror && !hooked {
		f.refuse(at("mirror"), RuleConflict, "remove it, or add [hook]", "needs a hook: the wire is mirrored about its shank")
	}
}

// layBody puts what is measured of the keeper's body into its shape.
func (k KeeperTable) layBody(shape *moldbox.Keeper, head HeadTable, pose moldbox.Pose, bodies Bodies, finest float64) error {
	if k.File == "" {
		return nil
	}
	if bodies.Wire == nil {
		shape.Wire, shape.InHook = usualHook.Wire, [][2]float64{{0, 0}, {10, 0}}
		return nil
	}
	body, err := bodies.Wire(k.File, head.MMPerUnit())
	if err != nil {
		return fmt.Errorf("keeper.file: %w", err)
	}
	*shape = body.Lay(*shape, pose, finest)
	return nil
}

// step is from one wire to the next in mm.
func (k KeeperTable) step(unit float64) geom.Vec {
	if len(k.InHook) > 0 {
		unit = 1
	}
	return k.Step.vec(unit)
}

// steelMass is the weighed mass of one wire, or its density times its volume in
// mm³.
func (k KeeperTable) steelMass(wire float64) float64 {
	if k.Mass > 0 {
		return float64(k.Mass)
	}
	return float64(k.Density) * wire * 1e-3
}
