package heat

import (
	"errors"
	"math"
	"testing"
)

// lead is pure lead: 327.5 °C, 23.07 J/g (OECD/NEA 7268, 2015), the solid's
// figures as in tables of pure metals.
func lead() Substance {
	const rho = 11.34e-3
	solid := rho * 0.129
	melt := rho * 0.148
	top := solid * 327.5
	return Substance{Name: "lead", States: []State{
		{0, 0, 1, 35.3}, {327.5, top, 1, 35.3}, {327.5, top + rho*23.07, 0, 15.8}, {427.5, top + rho*23.07 + 100*melt, 0, 15.8}}}
}

// Temperature and heat are each other's inverse, and all heat comes between the
// two states at a melting point.
func TestSubstance(t *testing.T) {
	s := lead()
	if err := s.Check(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []float64{-50, 20, 327, 330, 500} {
		if got := s.AtHeat(s.At(c).H).C; math.Abs(got-c) > 1e-9 {
			t.Errorf("%g °C became %g", c, got)
		}
	}
	if got := s.At(327.5).Solid; got != 0 {
		t.Errorf("%g is solid at the melting point with the most heat", got)
	}
	half := s.AtHeat((s.States[1].H + s.States[2].H) / 2)
	if half.C != 327.5 || math.Abs(half.Solid-0.5) > 1e-12 || math.Abs(half.K-25.55) > 1e-9 {
		t.Errorf("half way: %+v", half)
	}
	if s.Solidus() != 327.5 || s.Liquidus() != 327.5 {
		t.Errorf("solid at %g, liquid at %g", s.Solidus(), s.Liquidus())
	}
	if p := Plain("wood", 0.12, 0.6, 1.7); p.Check() != nil || math.Abs(p.At(40).H-p.At(20).H-0.6e-3*1.7*20) > 1e-12 {
		t.Errorf("wood: %+v, %v", p, p.Check())
	}
}

// Curves that no substance has are refused.
func TestSubstanceCheck(t *testing.T) {
	a, b, c := State{0, 0, 1, 1}, State{10, 1, 1, 1}, State{10, 2, 0, 1}
	for name, states := range map[string][]State{
		"one state":     {a},
		"heat falls":    {a, {10, -1, 1, 1}},
		"cools":         {b, {5, 2, 1, 1}},
		"ends flat":     {a, b, c},
		"begins flat":   {b, c, {20, 3, 0, 1}},
		"no conduction": {a, {10, 1, 1, 0}},
		"not a number":  {a, {math.NaN(), 1, 1, 1}},
		"more than all": {a, {10, 1, 1.5, 1}},
	} {
		if err := (Substance{States: states}).Check(); !errors.Is(err, errCurve) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
