package pourplan

import "fmt"

// Coord is a length of either sign, as it stands in a head file: a bare number
// is in the file's own unit, text carries its unit.
type Coord struct {
	Value float64 // mm, or the file's unit when Bare
	Bare  bool
}

// MM returns the coordinate in mm where the file's unit is mmPerUnit.
func (c Coord) MM(mmPerUnit float64) float64 {
	if c.Bare {
		return c.Value * mmPerUnit
	}
	return c.Value
}

// UnmarshalTOML reads a coordinate.
func (c *Coord) UnmarshalTOML(v any) error {
	x, err := lengthDim.read(v)
	if err != nil {
		return err
	}
	_, text := v.(string)
	*c = Coord{Value: x, Bare: !text}
	return nil
}

// Point is a place in a head file, [x, y, z].
type Point [3]Coord

// UnmarshalTOML reads a list of three coordinates.
func (p *Point) UnmarshalTOML(v any) error {
	xs, ok := v.([]any)
	if !ok || len(xs) != 3 {
		return fmt.Errorf("want a place such as [12.5, 0, 3], got %s", counted(v))
	}
	for i, x := range xs {
		if err := p[i].UnmarshalTOML(x); err != nil {
			return err
		}
	}
	return nil
}

// Places is a line through places in a head file, [[x, y, z], ...].
type Places []Point

// UnmarshalTOML reads a list of places.
func (p *Places) UnmarshalTOML(v any) error {
	rows, ok := v.([]any)
	if !ok {
		return fmt.Errorf("want a list of places such as [[12, 0, 0], [20, 0, 0]], got %s", quoted(v))
	}
	list := make(Places, len(rows))
	for i, row := range rows {
		if err := list[i].UnmarshalTOML(row); err != nil {
			return fmt.Errorf("place %d: %w", i+1, err)
		}
	}
	*p = list
	return nil
}

// Path is a line through places in a plane, [[x, y], ...], in mm.
type Path [][2]float64

// UnmarshalTOML reads a list of pairs.
func (p *Path) UnmarshalTOML(v any) error {
	const want = "want a list of places such as [[0, -2], [14, -2]]"
	rows, ok := v.([]any)
	if !ok {
		return fmt.Errorf("%s, got %s", want, quoted(v))
	}
	path := make(Path, len(rows))
	for i, row := range rows {
		xs, ok := row.([]any)
		if !ok || len(xs) != 2 {
			return fmt.Errorf("%s, got %s as place %d", want, counted(row), i+1)
		}
		for k, x := range xs {
			var err error
			if path[i][k], err = lengthDim.read(x); err != nil {
				return fmt.Errorf("place %d: %w", i+1, err)
			}
		}
	}
	*p = path
	return nil
}

func counted(v any) string {
	if xs, ok := v.([]any); ok {
		return fmt.Sprintf("a list of %d", len(xs))
	}
	return quoted(v)
}
