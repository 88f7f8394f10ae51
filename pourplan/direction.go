package pourplan

import (
	"fmt"
	"math"
	"strconv"

	"halfpour/geom"
	"halfpour/moldbox"
)

// Direction is which way something points in a head file, of any length.
type Direction geom.Vec

var fileAxes = map[string]Direction{"+x": {X: 1}, "-x": {X: -1}, "+y": {Y: 1}, "-y": {Y: -1}, "+z": {Z: 1}, "-z": {Z: -1}}

// UnmarshalTOML takes an axis of the file with its sign, or three numbers of
// which one at least is not 0.
func (d *Direction) UnmarshalTOML(v any) error {
	const want = `want an axis with its sign, "+x", "-x", "+y", "-y", "+z" or "-z", or a direction such as [0.99, 0.12, 0]`
	if text, ok := v.(string); ok {
		axis, known := fileAxes[text]
		if *d = axis; !known {
			return fmt.Errorf("%s, got %s", want, quoted(v))
		}
		return nil
	}
	xs, ok := v.([]any)
	if !ok || len(xs) != 3 {
		return fmt.Errorf("%s, got %s", want, counted(v))
	}
	for i, to := range []*float64{&d.X, &d.Y, &d.Z} {
		switch x := xs[i].(type) {
		case int64:
			*to = float64(x)
		case float64:
			*to = x
		default:
			return fmt.Errorf("%s, got %s in it", want, quoted(x))
		}
	}
	if n := geom.Vec(*d).Norm(); !(n > 1e-9) || n > 1e9 || math.IsNaN(n) {
		return fmt.Errorf("%s, got one that points nowhere", want)
	}
	return nil
}

// String writes it as a job does.
func (d Direction) String() string {
	text := moldbox.DirectionText(geom.Vec(d))
	if _, axis := fileAxes[text]; axis {
		return strconv.Quote(text)
	}
	return text
}
