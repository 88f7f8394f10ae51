package main

import (
	"context"
	"errors"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
)

// exitCode is what the shell sees. 2 is left to the Go runtime, which exits
// with it when it crashes.
type exitCode int

const (
	exitFine        exitCode = 0
	exitFailed      exitCode = 1
	exitUsage       exitCode = 3
	exitJob         exitCode = 4
	exitMesh        exitCode = 5
	exitStop        exitCode = 6
	exitInterrupted exitCode = 130
)

var exitNames = map[exitCode]string{
	exitFailed: "failed", exitUsage: "usage", exitJob: "job", exitMesh: "mesh",
	exitStop: "stop", exitInterrupted: "interrupted",
}

// exitText says what an exit code means.
type exitText struct {
	code exitCode
	text string
}

// exitTexts are the codes in the order of the help.
func exitTexts() []exitText {
	return []exitText{
		{exitFine, "all went well"},
		{exitFailed, "something outside the job went wrong, such as a full disk"},
		{exitUsage, "the command line is wrong"},
		{exitJob, "the job file is at fault"},
		{exitMesh, "the mesh of a head is at fault"},
		{exitStop, "the checks say stop"},
		{exitInterrupted, "the run was interrupted"},
	}
}

// fault is an error as it is shown: an exit code and one or more problems.
type fault struct {
	code     exitCode
	problems []problem
	err      error // what it was made of; may be nil
}

// problem is one thing that is wrong.
type problem struct {
	Message string   `json:"message"`          // place, rule, value seen
	File    string   `json:"file,omitempty"`   // as the user named it
	Line    int      `json:"line,omitempty"`   // of a job file, from 1
	Column  int      `json:"column,omitempty"` // in characters, from 1
	Rule    string   `json:"rule,omitempty"`   // short and stable; "halfpour explain" tells what it means
	Hints   []string `json:"hints,omitempty"`  // what to do
	excerpt string   // lines of the job file with carets
}

func (f *fault) Error() string {
	if len(f.problems) == 0 {
		return f.err.Error()
	}
	return f.problems[0].Message
}

func (f *fault) Unwrap() error { return f.err }

func usageError(message string, hints ...string) error {
	return &fault{code: exitUsage, problems: []problem{{Message: message, Rule: "usage", Hints: hints}}}
}

// faultOf says how an error is shown.
func faultOf(err error) *fault {
	var f *fault
	var noHead *head.Error
	var unproved *moldbox.ProofError
	var set *fileset.Fault
	switch {
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return &fault{code: exitInterrupted, err: err,
			problems: []problem{{Message: "interrupted; no file was left half-written", Rule: "interrupted"}}}
	case errors.As(err, &f):
		return f
	case errors.As(err, &noHead):
		return headFault(noHead)
	case errors.As(err, &unproved):
		return proofFault(unproved, "nothing was written; this is a defect of halfpour, please report it with the job and its heads",
			"until it is fixed, another --tolerance may work")
	case errors.As(err, &set):
		return &fault{code: exitFailed, err: err, problems: []problem{{
			Message: set.Message, File: set.Place, Rule: set.Rule, Hints: []string{set.Hint},
		}}}
	}
	return &fault{code: exitFailed, err: err, problems: []problem{{Message: err.Error(), Rule: "failed"}}}
}

// proofFault is of a claim that did not hold.
func proofFault(err *moldbox.ProofError, hints ...string) *fault {
	return &fault{code: exitFailed, err: err, problems: []problem{{Message: err.Error(), Rule: "proof", Hints: hints}}}
}

// errorReport is what a command that fails prints on stderr with --json.
type errorReport struct {
	Schema   int       `json:"schema"`    // reportSchema
	Code     exitCode  `json:"exit_code"` // that the program leaves with
	Kind     string    `json:"kind"`      // the code in a word: failed, usage, job, mesh, stop or interrupted
	Problems []problem `json:"problems"`  // what is wrong, at least one
}

// report prints the fault on stderr, as text or as one JSON object.
func (f *fault) report(t *terminal) {
	if t.json {
		_ = encode(t.err, errorReport{reportSchema, f.code, exitNames[f.code], f.problems}, "")
		return
	}
	for _, p := range f.problems {
		printLine(t.err, "halfpour: %s %s%s", paint(t.errColour, red, "error:"), p.Message, p.code())
		for line := range strings.Lines(p.excerpt) {
			printLine(t.err, "%s", strings.TrimSuffix(line, "\n"))
		}
		for _, h := range p.Hints {
			printLine(t.err, "halfpour: %s %s", paint(t.errColour, bold, "hint:"), h)
		}
	}
}

// code is the rule in brackets, for "halfpour explain"; "" where the message
// says all.
func (p problem) code() string {
	switch p.Rule {
	case "", "usage", "failed", "interrupted":
		return ""
	}
	return " [" + p.Rule + "]"
}
