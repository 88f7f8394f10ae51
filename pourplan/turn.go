package pourplan

import "fmt"

// Turn is the angle by which a head is turned in the parting plane, or "auto"
// to have it chosen.
type Turn struct {
	Angle Angle
	Auto  bool
}

// UnmarshalTOML takes what Angle takes, or "auto".
func (t *Turn) UnmarshalTOML(v any) error {
	if v == "auto" {
		*t = Turn{Auto: true}
		return nil
	}
	x, err := angleDim.read(v)
	if err != nil {
		return fmt.Errorf("%w; or write \"auto\" to have it chosen", err)
	}
	*t = Turn{Angle: Angle(x)}
	return nil
}
