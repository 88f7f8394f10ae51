package pourplan

import (
	"errors"
	"fmt"
	"reflect"

	"halfpour/geom"
	"halfpour/moldbox"
)

// KeeperTable is one [[keeper]], or one [[cavity.keeper]] that replaces the
// job's: a wire besides the hook, bent at the bench, that lies in the parting
// plane.
type KeeperTable struct {
	Name    string  `toml:"name"`
	Wire    MM      `toml:"wire"`    // diameter
	Points  Places  `toml:"points"`  // its axis in the head file's coordinates; true to size from the first one on
	InHook  Path    `toml:"in_hook"` // instead of points: from the hook's eye, x towards the tail, y towards the back
	Bend    MM      `toml:"bend"`    // inside radius of its bends; 0: one wire
	Count   int     `toml:"count"`   // how many alike, side by side
	Step    *Point  `toml:"step"`    // from one to the next, as points or, with in_hook, [x, y, 0]
	Leaves  bool    `toml:"leaves"`  // the mold through its edge, by the last stretch
	Fit     MM      `toml:"fit"`     // bed radius beyond the wire's
	Mass    Gram    `toml:"mass"`    // of one, weighed; 0: from the wire's volume
	Density Density `toml:"density"` // of the wire
}

// springSteel is the density of carbon steel spring wire, g/cm³ (trade tables,
// 7.80 to 7.87).
const springSteel = 7.85

func defaultKeeper() KeeperTable { return KeeperTable{Count: 1, Fit: 0.05, Density: springSteel} }

const maxKeepers = 32 // tables; each may stand for several wires

// keepers reads a list of [[keeper]] tables; it replaces what was there.
func (r *jobReader) keepers(at string, v any, dst *[]KeeperTable) {
	rows, ok := tables(v)
	if !ok {
		r.fail(at, RuleValue, "write [["+at+"]] with two brackets, once for each", fmt.Errorf("want a list of tables, got %s", quoted(v)))
		return
	}
	if len(rows) > maxKeepers {
		r.fail(at, RuleRange, "", fmt.Errorf("must be at most %d, got %d", maxKeepers, len(rows)))
		return
	}
	list := make([]KeeperTable, len(rows))
	for i, row := range rows {
		list[i] = defaultKeeper()
		r.table(fmt.Sprintf("%s[%d]", at, i), row, reflect.ValueOf(&list[i]).Elem())
	}
	*dst = list
}

// check checks what moldbox does not know; at turns a key into where it stands.
func (k KeeperTable) check(l *limits, at func(key string) string) {
	if len(k.Points) == 0 && len(k.InHook) == 0 {
		l.errs = append(l.errs, &keyError{at("points"), RuleMissing, "write points = [[x, y, z], [x, y, z]], read off in CAD in the file's coordinates",
			errors.New("must say where the wire runs")})
	}
	l.within(at("count"), float64(k.Count), 1, 32, "", "leave the table out for none")
	if k.Mass == 0 {
		l.within(at("density"), float64(k.Density), 1, 20, "g/cm3", "spring steel has 7.85")
	}
}

// shape is the keeper's wire; unit is one of the head's file in mm.
func (k KeeperTable) shape(unit float64) moldbox.Keeper {
	s := moldbox.Keeper{Name: k.Name, Wire: float64(k.Wire), Fit: float64(k.Fit), Bend: float64(k.Bend), Count: k.Count, Leaves: k.Leaves}
	for _, p := range k.Points {
		s.Points = append(s.Points, p.vec(unit))
	}
	for _, p := range k.InHook {
		s.InHook = append(s.InHook, [2]float64{p[0].MM(1), p[1].MM(1)})
	}
	if k.Step != nil {
		s.Step = k.step(unit)
	}
	return s
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
