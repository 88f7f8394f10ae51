package main

import (
	"context"
	"fmt"

	"github.com/urfave/cli/v2"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

func weighedFlag() cli.Flag {
	return &cli.BoolFlag{Name: "weighed", Usage: "take the fill factor from the weights of the job's account", DisableDefaultText: true}
}

// useWeights takes the fill factor from the heads weighed so far instead of
// the job's, and says so among the findings. Too few weights, or ones that
// scatter too much, are an error.
func (w *work) useWeights(ctx context.Context) error {
	path := w.accountPath()
	account, err := readAccountFile(ctx, path)
	if err != nil {
		return err
	}
	metal, density, err := w.job.CastMetal()
	if err != nil {
		return err
	}
	f, _ := account.FillFactor(metal, density)
	job, err := w.job.WithFill(f)
	if err != nil {
		return &fault{code: exitFailed, err: err, problems: []problem{{Message: path + ": the fill factor " + err.Error(), File: path, Rule: "weights",
			Hints: []string{"record more with halfpour log " + w.path + " --weights, or build without --weighed"}}}}
	}
	w.findings = append(w.findings, weighedFindings(path, f, w.job.Metal.FillFactor, account)...)
	w.job = job
	return nil
}

func weighedFindings(path string, f pourplan.WeighedFill, before float64, account *pourplan.Account) []moldbox.Finding {
	list := []moldbox.Finding{{Severity: moldbox.Note, Code: "weighed",
		Message: fmt.Sprintf("fill factor %.4f ± %.4f from %d weighed heads, instead of the job's %.4g", f.Factor, f.StandardError, f.Weights, before)}}
	for _, line := range account.Faults {
		if !line.Counted {
			list = append(list, moldbox.Finding{Severity: moldbox.Warn, Code: "account", Message: path + " " + line.Error(), Remedy: "mend the line, or take it out"})
		}
	}
	return list
}
