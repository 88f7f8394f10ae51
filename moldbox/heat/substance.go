package heat

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// State is one point on a substance's curve.
type State struct {
	C     float64 // temperature, °C
	H     float64 // heat held by 1 mm³, from any zero, J/mm³
	Solid float64 // share by volume that is solid, 0 to 1
	K     float64 // conductivity, W/(m·K)
}

// Substance is what a body is made of. Between its states all figures are
// linear in H, beyond the first and last they go on as there. H must rise from
// state to state; C must not fall. A pure metal has two states at its melting
// point, one solid and one liquid.
type Substance struct {
	Name   string
	States []State
}

// Plain returns a substance that neither melts nor changes: k in W/(m·K), rho in
// g/cm³, c in J/(g·K).
func Plain(name string, k, rho, c float64) Substance {
	at := func(temperature float64) State {
		return State{C: temperature, H: rho * 1e-3 * c * temperature, Solid: 1, K: k}
	}
	return Substance{Name: name, States: []State{at(0), at(100)}}
}

// errCurve says that a curve cannot be that of a substance.
var errCurve = errors.New("not the curve of a substance")

// Check returns an error when the curve makes no sense.
func (s Substance) Check() error {
	if len(s.States) < 2 {
		return fmt.Errorf("%s: %w: it has fewer than two states", s.Name, errCurve)
	}
	for i, a := range s.States {
		if !(a.K > 0) || !(a.Solid >= 0 && a.Solid <= 1) || math.IsInf(a.K+a.C+a.H, 0) || math.IsNaN(a.C+a.H) {
			return fmt.Errorf("%s: %w: state %d is %+v", s.Name, errCurve, i, a)
		}
		if i > 0 && (!(a.H > s.States[i-1].H) || a.C < s.States[i-1].C) {
			return fmt.Errorf("%s: %w: heat must rise and temperature must not fall from state %d to %d", s.Name, errCurve, i-1, i)
		}
	}
	if s.segmentSlope(0) == 0 || s.segmentSlope(len(s.States)-2) == 0 {
		return fmt.Errorf("%s: %w: temperature must rise at both ends", s.Name, errCurve)
	}
	return nil
}

// segmentSlope is dC/dH from state i to the next.
func (s Substance) segmentSlope(i int) float64 {
	a, b := s.States[i], s.States[i+1]
	return (b.C - a.C) / (b.H - a.H)
}

// between returns the state at heat h on the stretch from state i to the next.
func (s Substance) between(i int, h float64) State {
	a, b := s.States[i], s.States[i+1]
	t := (h - a.H) / (b.H - a.H)
	within := math.Max(0, math.Min(1, t))
	return State{C: a.C + t*(b.C-a.C), H: h, Solid: a.Solid + within*(b.Solid-a.Solid), K: a.K + within*(b.K-a.K)}
}

// AtHeat returns the state in which 1 mm³ holds h J.
func (s Substance) AtHeat(h float64) State {
	i := sort.Search(len(s.States)-2, func(i int) bool { return s.States[i+1].H >= h })
	return s.between(i, h)
}

// At returns the state at a temperature; of several, as at a melting point, the
// one with the most heat.
func (s Substance) At(c float64) State {
	n := len(s.States)
	i := sort.Search(n-2, func(i int) bool { return s.States[i+1].C > c })
	a, b := s.States[i], s.States[i+1]
	return s.between(i, a.H+(c-a.C)/(b.C-a.C)*(b.H-a.H))
}

// Solidus returns the highest temperature at which all is solid, °C.
func (s Substance) Solidus() float64 { return s.States[s.solid()].C }

// Liquidus returns the lowest temperature at which all is liquid, °C; that of
// the last state when none is.
func (s Substance) Liquidus() float64 {
	for _, a := range s.States {
		if a.Solid == 0 {
			return a.C
		}
	}
	return s.States[len(s.States)-1].C
}

// solid is the index of the last state before some of it is liquid.
func (s Substance) solid() int {
	last := 0
	for i, a := range s.States {
		if a.Solid < 1 {
			break
		}
		last = i
	}
	return last
}
