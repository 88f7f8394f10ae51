package main

import (
	"context"
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
		Usage:     "how much part B to add to part A, and how to correct an overshoot",
		ArgsUsage: "RATIO_OR_JOB MASS_OF_A",
		Description: `RATIO is parts of A to parts of B by mass, as on the data sheet; a job file
gives its rubber's ratio. A mass is in g unless it has a unit; type all the
decimals the scale shows. With -b, the B already in the cup, it says what to
add, how far off the mix is if you leave it, and whether the tolerance
allows that. With --half, it says whether the mix fills the frame of a built
job.`,
		UsageText: `  halfpour mix 100:3 148.6g            B for 148.6 g of A
  halfpour mix --ratio 100:3 148.6     the same
  halfpour mix job.toml 162.2g         the same at the job's ratio
  halfpour mix 100:3 162.2g -b 5.1g --tolerance 5%
                                       5.1 g of B went in: what now?
  halfpour mix job.toml 57.2g --half left
                                       is that enough for the left half?
  halfpour mix 10:1 6oz`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "ratio", Usage: "`A:B` by mass, instead of the first argument", DefaultText: "none"},
			&cli.StringFlag{Name: "b", Usage: "`MASS` of part B that is in the cup", DefaultText: "none"},
			&cli.StringFlag{Name: "tolerance", Usage: "`PERCENT` that B may be off, by the data sheet", DefaultText: "the job's"},
			&cli.StringFlag{Name: "half", Usage: "`HALF` that the job's mix is for: left, right or both", DefaultText: "none"},
			&cli.StringFlag{Name: "size", Usage: "`NAME` of the half's size, for a job with sizes", DefaultText: "none"},
			jsonFlag(),
		},
		Action: func(c *cli.Context) error {
			m, err := readMix(t, c)
			if err != nil {
				return err
			}
			return m.print(t)
		},
	}
}

// readMix takes a cup from the command line.
func readMix(t *terminal, c *cli.Context) (*mix, error) {
	source, mass, needs := c.Args().Get(0), c.Args().Get(1), 2
	if c.IsSet("ratio") {
		source, mass, needs = c.String("ratio"), c.Args().Get(0), 1
	}
	if needs == 1 && c.NArg() != 1 {
		t.json = c.Bool("json")
		return nil, usageError(fmt.Sprintf("mix with --ratio needs MASS_OF_A alone, got %d arguments", c.NArg()), "see: halfpour mix --help")
	}
	if err := begin(t, c, needs, needs); err != nil {
		return nil, err
	}
	a, err := massOf("mass of A", mass)
	if err != nil {
		return nil, err
	}
	m := &mix{Schema: reportSchema, A: a, Cautions: []pourplan.Caution{pourplan.CatalystCaution}, step: stepOf(mass)}
	if err := m.useSource(c.Context, t, source, c.String("half"), c.String("size")); err != nil {
		return nil, err
	}
	m.Ratio, m.B = m.ratio.String(), pourplan.BFor(a, m.ratio)
	if c.IsSet("tolerance") {
		percent, err := pourplan.ReadPercent(c.String("tolerance"))
		if err != nil {
			return nil, usageError(fmt.Sprintf("--tolerance: %v", err))
		}
		m.Tolerance = &percent
	}
	if c.IsSet("b") {
		b, err := massOf("-b", c.String("b"))
		if err != nil {
			return nil, err
		}
		m.correct(b)
		m.step = min(m.step, stepOf(c.String("b")))
	}
	m.holdAgainstPlan()
	return m, nil
}

// useSource takes a ratio with a usual scale's step; or a job's ratio, step
// and tolerance, and for a half the batch of its plan.
func (m *mix) useSource(ctx context.Context, t *terminal, text, half, size string) error {
	err := m.ratio.UnmarshalTOML(text)
	if err == nil {
		m.step = min(m.step, float64(pourplan.Default().Rubber.Scale))
		if half != "" {
			return usageError("--half needs a job file, got the ratio "+text, "for a job: halfpour mix job.toml MASS_OF_A --half "+half)
		}
		return nil
	}
	if _, statErr := os.Stat(text); statErr != nil && text != "-" && filepath.Ext(text) != ".toml" {
		return usageError(fmt.Sprintf("ratio: %v", err), "or name a job file to use its rubber's ratio")
	}
	f, err := readAnyJob(ctx, t, text)
	if err != nil {
		return err
	}
	if m.ratio, err = f.job.MixRatio(); err != nil {
		return err
	}
	m.step = min(m.step, float64(f.job.Rubber.Scale))
	if percent, known := f.job.Tolerance(); known {
		m.Tolerance = &percent
	}
	if half == "" {
		return nil
	}
	mold, err := f.oneMold(size)
	if err != nil {
		return err
	}
	return m.usePlan(ctx, t, mold, half)
}

// usePlan takes the batch of a half from the job's last build.
func (m *mix) usePlan(ctx context.Context, t *terminal, f *moldFile, half string) error {
	plan, err := f.builtPlan(ctx, t)
	if err != nil {
		return err
	}
	if plan == nil {
		return usageError("--half needs a plan: "+f.path+" is not built yet", "halfpour build "+f.path)
	}
	batch, err := plan.Batch(half)
	if err != nil {
		return usageError("--" + err.Error())
	}
	if r := (pourplan.Ratio{A: plan.Rubber.RatioA, B: plan.Rubber.RatioB}); r != m.ratio {
		return usageError(fmt.Sprintf("%s now has %v, but was built with %v", f.path, m.ratio, r), "build it again: halfpour build "+f.path)
	}
	m.batch = &batch
	return nil
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

// massOf reads a mass above 0 in g, as a job file would.
func massOf(what, text string) (float64, error) {
	g, err := pourplan.ReadMass(text)
	if err == nil && g == 0 {
		err = fmt.Errorf("must be above 0 g, got %g g", g)
	}
	if err != nil {
		return 0, usageError(fmt.Sprintf("%s: %v", what, err))
	}
	return g, nil
}
