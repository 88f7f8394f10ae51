package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
)

// ownAccount refuses an account that another job beside this one keeps too: a
// job ball.toml with a size "small", and a job ball-small.toml.
func (f *jobFile) ownAccount(ctx context.Context, m pourplan.Mold) error {
	other, err := f.accountRival(ctx, m)
	if err != nil || other == "" {
		return err
	}
	path := f.accountOf(m)
	return &fault{code: exitJob, problems: []problem{{
		Message: fmt.Sprintf("%s: %s keeps its castings in this file too", path, other), File: path, Rule: "account",
		Hints: []string{"rename one of the two jobs, or the size", "nothing was read or recorded"}}}}
}

// accountRival names the other job of the same account, "" for none. Jobs that
// cannot be read keep no account.
func (f *jobFile) accountRival(ctx context.Context, m pourplan.Mold) (string, error) {
	if m.Folder != "" {
		other := filepath.Join(f.folder(), f.name()+"-"+m.Folder+".toml")
		if _, err := fileset.ReadFile(ctx, other, pourplan.MaxJobBytes); err != nil {
			return "", ctx.Err()
		}
		return other, nil
	}
	entries, err := os.ReadDir(f.folder())
	if err != nil {
		return "", err
	}
	for _, e := range entries {
		base, job := strings.CutSuffix(e.Name(), ".toml")
		size, sized := strings.CutPrefix(f.name(), base+"-")
		if !job || !sized {
			continue
		}
		other := filepath.Join(f.folder(), e.Name())
		data, err := fileset.ReadFile(ctx, other, pourplan.MaxJobBytes)
		if err != nil {
			continue
		}
		read, err := pourplan.ReadJob(other, data)
		if err != nil {
			continue
		}
		for _, o := range read.Molds() {
			if o.Folder == size {
				return fmt.Sprintf("%s, size %q,", other, o.Name), nil
			}
		}
	}
	return "", ctx.Err()
}
