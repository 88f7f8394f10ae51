package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

func mixCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "mix",
		Usage:     "part B for the part A in the cup, and how to correct an overshoot",
		ArgsUsage: "RATIO_OR_JOB MASS_OF_A",
		Description: `A ratio is parts of A to parts of B by mass, as the data sheet has it; of a job
file, its rubber's ratio is taken. A mass is in g, or carries its unit; type all
the decimals that the scale shows. With -b, the B that is in the cup too: what
to add, and how far off the mix is if left as it is.`,
		UsageText: `  halfpour mix 100:3 162.2g            B for 162.2 g of A
  halfpour mix job.toml 162.2g         the same at the job's ratio
  halfpour mix 100:3 162.2g -b 5.1g    5.1 g of B went in: what now?
  halfpour mix 10:1 6oz`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "b", Usage: "`MASS` of part B that is in the cup", DefaultText: "none"},
			jsonFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 2, 2); err != nil {
				return err
			}
			ratio, step, err := ratioOf(t, c.Args().Get(0))
			if err != nil {
				return err
			}
			a, err := massOf("mass of A", c.Args().Get(1))
			if err != nil {
				return err
			}
			m := newMix(ratio, a)
			m.step = min(step, stepOf(c.Args().Get(1)))
			if c.IsSet("b") {
				b, err := massOf("-b", c.String("b"))
				if err != nil {
					return err
				}
				m.correct(b)
				m.step = min(m.step, stepOf(c.String("b")))
			}
			return m.print(t)
		},
	}
}

// ratioOf reads a ratio, or takes the one of a job's rubber, and tells the
// step of the scale in g: the job's, or a usual one.
func ratioOf(t *terminal, text string) (ratio pourplan.Ratio, step float64, err error) {
	step = float64(pourplan.Default().Rubber.Scale)
	if err = ratio.UnmarshalTOML(text); err == nil {
		return ratio, step, nil
	}
	if _, statErr := os.Stat(text); statErr != nil && text != "-" && filepath.Ext(text) != ".toml" {
		return ratio, 0, usageError(fmt.Sprintf("ratio: %v", err), "or name a job file, and its rubber's ratio is taken")
	}
	w := &work{path: text}
	if err := w.readJob(t); err != nil {
		return ratio, 0, err
	}
	ratio, err = w.job.MixRatio()
	return ratio, float64(w.job.Rubber.Scale), err
}

// stepOf is the step in g of a scale that shows the decimals of a mass typed in
// g; +Inf for one in another unit.
func stepOf(text string) float64 {
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "g"))
	if _, err := strconv.ParseFloat(number, 64); err != nil || strings.ContainsAny(number, "eE") {
		return math.Inf(1)
	}
	_, behind, _ := strings.Cut(number, ".")
	return math.Pow(10, -float64(len(behind)))
}

// massOf reads a mass in g, as a job file would.
func massOf(what, text string) (float64, error) {
	var g pourplan.Gram
	var value any = text
	if x, err := strconv.ParseFloat(text, 64); err == nil {
		value = x
	}
	if err := g.UnmarshalTOML(value); err != nil {
		return 0, usageError(fmt.Sprintf("%s: %v", what, err))
	}
	if !(g > 0) {
		return 0, usageError(fmt.Sprintf("%s: must be above 0 g, got %g g", what, float64(g)))
	}
	return float64(g), nil
}

// mix is a cup of rubber; masses in g.
type mix struct {
	Schema int     `json:"schema"` // reportSchema
	Ratio  string  `json:"ratio"`  // A:B by mass
	A      float64 `json:"a_g"`    // in the cup
	B      float64 `json:"b_g"`    // that belongs to A

	Correction *mixCorrection `json:"correction,omitempty"`
	ratio      pourplan.Ratio
	step       float64 // of the scale, g
}

// mixCorrection is what to do when some B is in the cup.
type mixCorrection struct {
	InCup   float64 `json:"b_in_cup_g"`
	AddA    float64 `json:"add_a_g"`
	AddB    float64 `json:"add_b_g"`
	OffBy   float64 `json:"b_off_percent"` // of the B that belongs there, if left
	AsRatio string  `json:"ratio_if_left"`
}

func newMix(r pourplan.Ratio, a float64) *mix {
	return &mix{Schema: reportSchema, Ratio: r.String(), A: a, B: pourplan.BFor(a, r), ratio: r}
}

// correct takes in the B that was poured.
func (m *mix) correct(b float64) {
	c := &mixCorrection{InCup: b, OffBy: 100 * (b/m.B - 1), AsRatio: fmt.Sprintf("100:%.3g", 100*b/m.A)}
	if b > m.B {
		c.AddA = pourplan.AFor(b, m.ratio) - m.A
	} else {
		c.AddB = m.B - b
	}
	m.Correction = c
}

// mass shows a mass as the scale does.
func (m *mix) mass(g float64) string { return pourplan.FormatWeighed(g, m.step) }

func (m *mix) print(t *terminal) error {
	if t.json {
		return writeJSON(t, m)
	}
	t.say("A  %s", m.mass(m.A))
	t.say("B  %s   at %s by mass", paint(t.outColour, bold, m.mass(m.B)), m.Ratio)
	c := m.Correction
	if c == nil {
		return nil
	}
	switch {
	case math.Abs(c.InCup-m.B) <= m.step/2: // the scale shows no more
		t.say("%s of B is what belongs there", m.mass(c.InCup))
		return nil
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
	t.say("left as it is the ratio is %s, %.1f %% %s B than asked", c.AsRatio, math.Abs(c.OffBy), less)
	return nil
}
