package making

import (
	"errors"
	"fmt"

	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// MoldErrors are what went wrong with molds of a run, in their order.
type MoldErrors []MoldError

// MoldError is what went wrong with one mold.
type MoldError struct {
	Mold pourplan.Mold
	Err  error
}

func (e MoldErrors) Error() string { return e[0].Error() }

func (e MoldErrors) Unwrap() (list []error) {
	for _, m := range e {
		list = append(list, m)
	}
	return list
}

func (e MoldError) Error() string {
	if e.Mold.Name == "" {
		return e.Err.Error()
	}
	return e.Mold.Name + ": " + e.Err.Error()
}

func (e MoldError) Unwrap() error { return e.Err }

// StopError says that checks say stop to molds.
type StopError struct{ Molds []*Mold }

func (e *StopError) Error() string {
	for _, f := range e.Molds[0].Findings {
		if f.Severity == moldbox.Stop {
			return "the checks say stop: " + f.Message
		}
	}
	return "the checks say stop"
}

// MemoryError says that a mold would take too much memory.
type MemoryError struct {
	Facets     int // of the heads of all cavities
	Need, Most int // bytes
	Coarser    int // facets of a head that would do
}

func (e *MemoryError) Error() string {
	return fmt.Sprintf("the heads of all cavities have %d facets together: their frames would need about %.1f GB of memory, the limit is %.1f GB",
		e.Facets, float64(e.Need)/1e9, float64(e.Most)/1e9)
}

// CrossedError is a proof that failed of a mold with a head that cuts through
// itself.
type CrossedError struct {
	Proof *moldbox.ProofError
	Head  moldbox.Finding
}

func (e *CrossedError) Error() string { return e.Proof.Error() }

func (e *CrossedError) Unwrap() error { return e.Proof }

// blameCrossed says of a proof that failed that a head cuts through itself, if
// one does.
func (m *Mold) blameCrossed(err error) error {
	var unproved *moldbox.ProofError
	if !errors.As(err, &unproved) {
		return err
	}
	for _, found := range m.Findings {
		if found.Code == head.CrossedCode {
			return &CrossedError{unproved, found}
		}
	}
	return err
}
