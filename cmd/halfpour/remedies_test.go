package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
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
