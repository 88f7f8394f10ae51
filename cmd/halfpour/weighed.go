package main

import (
	"context"
	"fmt"

	"github.com/urfave/cli/v2"

	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

func weighedFlag() cli.Flag {
	return &cli.BoolFlag{Name: "weighed", Usage: "take the fill factor from the weights in the job's account", DisableDefaultText: true}
}

// useWeights takes the fill factors from the heads weighed so far instead of
// the job's, and says so among the findings. Too few weights, or ones that
// scatter too much, are an error.
func (f *jobFile) useWeights(ctx context.Context, run *making.Run) error {
	var faults making.MoldErrors
	for _, m := range run.Molds {
		if err := f.useWeightsOf(ctx, m); err != nil {
			faults = append(faults, making.MoldError{Mold: m.Mold, Err: err})
		}
	}
	if faults == nil {
		return nil
	}
	return f.fault(faults)
}

func (f *jobFile) useWeightsOf(ctx context.Context, m *making.Mold) error {
	path := f.accountOf(m.Mold)
	if err := f.ownAccount(ctx, m.Mold); err != nil {
		return err
	}
	account, err := readAccountFile(ctx, path)
	if err != nil {
		return err
	}
	metal, density, err := m.Job.CastMetal()
	if err != nil {
		return err
	}
	fill, _ := account.FillFactor(metal, density)
	job, err := m.Job.WithFill(fill)
	if err != nil {
		return &fault{code: exitFailed, err: err, problems: []problem{{Message: path + ": the fill factor " + err.Error(), File: path, Rule: "weights",
			Hints: []string{"record more with halfpour log " + f.path + " --weights, or build without --weighed"}}}}
	}
	m.Findings = append(m.Findings, weighedFindings(path, fill, m.Job.Metal.FillFactor, account)...)
	m.Job = job
	return nil
}

func weighedFindings(path string, f pourplan.WeighedFill, before float64, account *pourplan.Account) []moldbox.Finding {
	list := []moldbox.Finding{{Severity: moldbox.Note, Code: "weighed",
		Message: fmt.Sprintf("fill factor %.4f ± %.4f from %d weighed heads, instead of the job's %.4g", f.Factor, f.StandardError, f.Weights, before)}}
	for _, line := range account.Faults {
		if !line.Counted {
			list = append(list, moldbox.Finding{Severity: moldbox.Warn, Code: "account", Message: path + " " + line.Error(), Remedy: "fix the line, or remove it"})
		}
	}
	return list
}
