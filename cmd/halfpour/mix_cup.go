package main

import (
	"fmt"
	"math"

	"halfpour/pourplan"
)

// mix is a cup of rubber; masses in g.
type mix struct {
	Schema    int      `json:"schema"`                      // reportSchema
	Ratio     string   `json:"ratio"`                       // A:B by mass
	A         float64  `json:"a_g"`                         // in the cup
	B         float64  `json:"b_g"`                         // that belongs to A
	Tolerance *float64 `json:"tolerance_percent,omitempty"` // that B may be off; left out when nobody says

	Correction *mixCorrection `json:"correction,omitempty"` // left out without the B in the cup
	Planned    *mixPlanned    `json:"planned,omitempty"`    // left out without a half

	Cautions []pourplan.Caution `json:"cautions"` // that go with mixing

	ratio pourplan.Ratio
	step  float64 // of the scale, g
	batch *pourplan.Batch
}

// mixCorrection is what to do when some B is in the cup.
type mixCorrection struct {
	InCup   float64 `json:"b_in_cup_g"`                 // as told
	AddA    float64 `json:"add_a_g"`                    // that restores the ratio; 0 when there is too little B
	AddB    float64 `json:"add_b_g"`                    // that restores the ratio; 0 when there is too much B
	OffBy   float64 `json:"b_off_percent"`              // of the B that belongs there, if left
	AsRatio string  `json:"ratio_if_left"`              // A:B by mass, if nothing is added
	Within  *bool   `json:"within_tolerance,omitempty"` // if left; left out without a tolerance
}

// mixPlanned holds a mix, brought to its ratio, against the job's plan.
type mixPlanned struct {
	Half  string  `json:"half"`     // left, right or both
	A     float64 `json:"a_g"`      // to weigh by the plan
	B     float64 `json:"b_g"`      // to weigh by the plan
	Mix   float64 `json:"mix_g"`    // of the cup
	Spare float64 `json:"spare_g"`  // beyond what frame, cup and brush take; below 0 the frame is not filled
	MoreA float64 `json:"more_a_g"` // that is missing to fill the frame
}

// correct takes in the B that was poured.
func (m *mix) correct(b float64) {
	fix := m.ratio.Correct(m.A, b)
	c := &mixCorrection{InCup: b, AddA: fix.AddA, AddB: fix.AddB, OffBy: fix.OffPercent, AsRatio: fmt.Sprintf("100:%.3g", 100*b/m.A)}
	if m.Tolerance != nil {
		within := fix.Within(*m.Tolerance)
		c.Within = &within
	}
	m.Correction = c
}

// holdAgainstPlan compares what the cup comes to with what the frame takes.
func (m *mix) holdAgainstPlan() {
	if m.batch == nil {
		return
	}
	mixed := m.A + m.B
	if c := m.Correction; c != nil {
		mixed = m.A + c.AddA + c.InCup + c.AddB
	}
	p := &mixPlanned{Half: m.batch.Half, A: m.batch.AG, B: m.batch.BG, Mix: mixed, Spare: m.batch.Spare(mixed)}
	if p.Spare < 0 {
		p.MoreA, _ = m.ratio.Split(-p.Spare)
	}
	m.Planned = p
}

// mass shows a mass as the scale does.
func (m *mix) mass(g float64) string { return pourplan.FormatWeighed(g, m.step) }

func (m *mix) print(t *terminal) error {
	if t.json {
		return writeJSON(t, m)
	}
	t.say("A  %s", m.mass(m.A))
	t.say("B  %s   at %s by mass", paint(t.outColour, bold, m.mass(m.B)), m.Ratio)
	m.sayCorrection(t)
	m.sayPlanned(t)
	for _, c := range m.Cautions {
		t.say("%s", c.Text)
	}
	return nil
}

func (m *mix) sayCorrection(t *terminal) {
	c := m.Correction
	if c == nil {
		return
	}
	switch {
	case math.Abs(c.InCup-m.B) <= m.step/2: // the scale shows no more
		t.say("%s of B is right", m.mass(c.InCup))
		return
	case c.AddA > 0:
		t.say("%s of B is %s too much: add %s of A", m.mass(c.InCup),
			m.mass(c.InCup-m.B), paint(t.outColour, bold, m.mass(c.AddA)))
	default:
		t.say("%s of B is in the cup: add %s of B", m.mass(c.InCup), paint(t.outColour, bold, m.mass(c.AddB)))
	}
	less := "more"
	if c.OffBy < 0 {
		less = "less"
	}
	verdict := ""
	if c.Within != nil {
		verdict = fmt.Sprintf(": beyond the %g %% allowed", *m.Tolerance)
		if *c.Within {
			verdict = fmt.Sprintf(": within the %g %% allowed", *m.Tolerance)
		}
	}
	t.say("left as it is, the ratio is %s, %.1f %% %s B than it should be%s", c.AsRatio, math.Abs(c.OffBy), less, verdict)
}

func (m *mix) sayPlanned(t *terminal) {
	p := m.Planned
	if p == nil {
		return
	}
	name := p.Half + " half"
	if p.Half == "both" {
		name = "both halves"
	}
	t.say("%s: planned A %s, B %s", name, m.mass(p.A), m.mass(p.B))
	if p.Spare >= 0 {
		t.say("this mix of %s is enough: frame, cup and brush leave %s to spare", m.mass(p.Mix), m.mass(p.Spare))
		return
	}
	t.say("this mix of %s is %s short: pour %s more A, then run mix again", m.mass(p.Mix), m.mass(-p.Spare),
		paint(t.outColour, bold, m.mass(p.MoreA)))
}
