package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

var moldboxDir = filepath.Join("..", "..", "moldbox")

// causedOnly are codes that always come with a cause, which has the remedy.
var causedOnly = []string{"thinner-than-nozzle", "fewer-keys"}

// Every code and every cause of moldbox has a remedy in pourplan.
func TestEveryFindingHasARemedy(t *testing.T) {
	found := map[string]string{}
	collectCodes(t, moldboxDir, found)
	causes := causesOf(t)
	if len(found) < 40 || len(causes) < 20 {
		t.Fatalf("found only %d codes and %d causes: the search is broken", len(found), len(causes))
	}
	for code, place := range found {
		if !slices.Contains(causedOnly, code) && pourplan.Remedy(moldbox.Finding{Code: code}) == "" {
			t.Errorf("%s: %q has no remedy: write one in pourplan/remedies.go", place, code)
		}
	}
	for _, cause := range causes {
		if pourplan.Remedy(moldbox.Finding{Cause: cause}) == "" {
			t.Errorf("the cause %q has no remedy: write one in pourplan/remedies.go", cause)
		}
	}
}

// causesOf are the constants of moldbox.Cause.
func causesOf(t *testing.T) (list []moldbox.Cause) {
	tree, err := parser.ParseFile(token.NewFileSet(), filepath.Join(moldboxDir, "cause.go"), nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		if spec, ok := n.(*ast.ValueSpec); ok && typeName(spec.Type) == "Cause" {
			for _, v := range spec.Values {
				if text, ok := literal(v); ok {
					list = append(list, moldbox.Cause(text))
				}
			}
		}
		return true
	})
	return list
}

// The job's keys are pourplan's: no text of moldbox or geom names one.
func TestKeysAreNamedAboveTheMold(t *testing.T) {
	var dotted []string
	for _, key := range pourplan.KeyNames() {
		if strings.Contains(key, ".") {
			dotted = append(dotted, regexp.QuoteMeta(key))
		}
	}
	names := regexp.MustCompile(`(^|[^\w.])(` + strings.Join(dotted, "|") + `)($|\W)|\[\[\w+\]\]`)
	for _, text := range []string{"lengthen hook.shank, take", "frame.wall", "the points of [[keeper]]"} {
		if !names.MatchString(text) {
			t.Fatalf("the search misses %q", text)
		}
	}
	texts := 0
	for _, room := range []string{"geom", "moldbox"} {
		err := filepath.WalkDir(filepath.Join("..", "..", room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
				return err
			}
			set := token.NewFileSet()
			tree, err := parser.ParseFile(set, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(tree, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					text, _ := literal(lit)
					texts++
					if key := names.FindString(text); key != "" {
						t.Errorf("%s: %q names %q, a key of the job", set.Position(lit.Pos()), text, strings.TrimSpace(key))
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if texts < 500 {
		t.Errorf("found only %d texts", texts)
	}
}
