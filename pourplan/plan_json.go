package pourplan

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// JSON returns the plan as an indented document with a final newline. Its
// bytes depend on the plan alone: fields in the order of the types in plan.go,
// numbers in the shortest form that reads back to the same value. A plan that
// holds NaN or an infinity is an error.
func (p *Plan) JSON() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(p); err != nil {
		return nil, fmt.Errorf("plan: %w", err)
	}
	return b.Bytes(), nil
}
