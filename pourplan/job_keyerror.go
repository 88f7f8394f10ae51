package pourplan

import (
	"fmt"
	"strings"
)

// keyError is a rule that a Job breaks, before it has a place in a file.
type keyError struct {
	key, rule, hint string
	err             error
}

// Error reads: key, rule, value seen.
func (e *keyError) Error() string { return e.key + ": " + e.err.Error() }

// Unwrap returns what is wrong without the key.
func (e *keyError) Unwrap() error { return e.err }

// suggest says which of the names was likely meant, or lists them.
func suggest(got string, names []string) string {
	if near := Nearest(strings.ToLower(got), names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "one of " + strings.Join(names, ", ")
}
