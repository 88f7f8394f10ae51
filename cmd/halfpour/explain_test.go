package main

import (
	"context"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"halfpour/geom"
	"halfpour/pourplan"
)

// codesInSource are the codes of findings and rules of errors that stand in the
// program's source, with a place for each: literals in a field or variable
// called code or rule, constants of a Rule type, and arguments for parameters
// called code or rule.
func codesInSource(t *testing.T) map[string]string {
	t.Helper()
	found := map[string]string{}
	for _, room := range []string{"cmd/halfpour", "moldbox", "pourplan", "geom"} {
		root := filepath.Join("..", "..", filepath.FromSlash(room))
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || !d.IsDir() {
				return err
			}
			if d.Name() == "testdata" || d.Name() == "internal" { // what tests share
				return fs.SkipDir
			}
			collectCodes(t, path, found)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return found
}

// collectCodes looks through the files of one folder.
func collectCodes(t *testing.T, dir string, found map[string]string) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	set := token.NewFileSet()
	var trees []*ast.File
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		trees = append(trees, tree)
	}
	take := func(e ast.Expr) {
		if text, ok := literal(e); ok && codeForm.MatchString(text) {
			found[text] = set.Position(e.Pos()).String()
		}
	}
	params := codeParameters(trees)
	for _, tree := range trees {
		ast.Inspect(tree, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CompositeLit:
				if name := typeName(n.Type); name == "Caution" || name == "EventPlan" {
					return false // codes of their own, which the sheet words
				}
			case *ast.KeyValueExpr:
				if named(n.Key, "code", "rule") {
					take(n.Value)
				}
			case *ast.AssignStmt:
				for i, left := range n.Lhs {
					if named(left, "code", "rule") && i < len(n.Rhs) {
						take(n.Rhs[i])
					}
				}
			case *ast.ValueSpec:
				for i, name := range n.Names {
					ruled := typeName(n.Type) == "Rule" || typeName(n.Type) == "FaultRule" || strings.HasPrefix(name.Name, "Rule") ||
						strings.HasSuffix(name.Name, "Code") || strings.HasSuffix(name.Name, "Rule")
					if ruled && i < len(n.Values) {
						take(n.Values[i])
					}
				}
			case *ast.CallExpr:
				if i, ok := params[calledName(n)]; ok && i < len(n.Args) {
					take(n.Args[i])
				}
			}
			return true
		})
	}
}

var codeForm = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)

func literal(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

func named(e ast.Expr, names ...string) bool {
	if s, ok := e.(*ast.SelectorExpr); ok {
		e = s.Sel
	}
	id, ok := e.(*ast.Ident)
	return ok && slices.Contains(names, strings.ToLower(id.Name))
}

func typeName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
}

func calledName(c *ast.CallExpr) string { return typeName(c.Fun) }

// codeParameters are functions with a text parameter called code or rule, and
// its index.
func codeParameters(trees []*ast.File) map[string]int {
	params := map[string]int{}
	for _, tree := range trees {
		for _, d := range tree.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			i := 0
			for _, field := range f.Type.Params.List {
				for _, name := range field.Names {
					if (name.Name == "code" || name.Name == "rule") && typeName(field.Type) == "string" {
						params[f.Name.Name] = i
					}
					i++
				}
			}
		}
	}
	return params
}

// specRules are the words of moldbox.SpecError.Rule, which are no codes.
var notCodes = []string{"must"}

func TestEveryCodeIsExplained(t *testing.T) {
	found := codesInSource(t)
	if len(found) < 60 {
		t.Fatalf("found only %d codes: the search is broken", len(found))
	}
	// Some that the search must not miss, each by another of its ways.
	for _, code := range []string{"gate-on-hook", "cavities-collide", "slot-thinner-than-nozzle", "open-edge", "short", "head-crossed", "bad-value", "unsupported", "wire-breaks-out"} {
		if found[code] == "" {
			t.Errorf("the search does not find %q", code)
		}
	}
	known := explainCodes()
	for code, place := range found {
		if !slices.Contains(known, code) && !slices.Contains(notCodes, code) {
			t.Errorf("%s: %q has no explanation: write one in explain_*.go", place, code)
		}
	}
	// Those that are put together: cautions to act on, and no others.
	for _, code := range known {
		if found[code] == "" && !slices.Contains(pourplan.CautionsToActOn, code) {
			t.Errorf("%q is explained, but nothing in the source gives it", code)
		}
	}
}

func TestExplanationsAreWhole(t *testing.T) {
	seen := map[string]bool{}
	keys := pourplan.KeyNames()
	for _, g := range explainGroups() {
		for _, e := range g.about {
			if seen[e.code] {
				t.Errorf("%q is explained twice", e.code)
			}
			seen[e.code] = true
			if !codeForm.MatchString(e.code) || !strings.HasSuffix(e.means, ".") || !strings.HasSuffix(e.do, ".") {
				t.Errorf("%q: means %q, do %q", e.code, e.means, e.do)
			}
			for _, key := range e.keys {
				if !slices.Contains(keys, key) {
					t.Errorf("%q names %q, which is no key of the job", e.code, key)
				}
			}
		}
	}
}

// What geom.Audit can say is among the mesh errors.
func TestAuditRulesAreExplained(t *testing.T) {
	for _, rule := range []geom.FaultRule{geom.NoTriangles, geom.OpenEdge, geom.Shells, geom.SplitVertex} {
		if !slices.Contains(explainCodes(), string(rule)) {
			t.Errorf("%q is not explained", rule)
		}
	}
}

func TestExplain(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		want string // in stdout, or in stderr when code is not 0
	}{
		{nil, 0, "air-trapped piece-unfed"},
		{[]string{"air-trapped"}, 0, "  to do   Turn the cavity"},
		{[]string{"[AIR-TRAPPED]"}, 0, "air-trapped\n  meaning "},
		{[]string{"sprue.gate_width"}, 0, "  limits  0.4 to 60 mm\n"},
		{[]string{"vents"}, 0, "[vents]\n  meaning Channels that let the air out of a cavity.\nvents.width\n"},
		{[]string{"size"}, 0, "[[size]]\n  meaning A size run"},
		{[]string{"size"}, 0, "size is also a code, of the group \"Errors in a head's mesh\":\nsize\n"},
		{[]string{"air-traped"}, 3, "did you mean: halfpour explain air-trapped?"},
		{[]string{"gate_width"}, 3, "did you mean: halfpour explain sprue.gate_width?"},
		{[]string{"hok.wire"}, 3, "did you mean: halfpour explain hook.wire?"},
		{[]string{"zzzzzzzz"}, 3, "for a list of all: halfpour explain"},
		{[]string{"one", "two"}, 3, "explain takes [CODE_OR_KEY], got 2 arguments"},
	} {
		code, stdout, stderr := halfpour(context.Background(), append([]string{"explain"}, c.args...)...)
		text := stdout
		if c.code != 0 {
			text = stderr
		}
		if code != c.code || !strings.Contains(text, c.want) {
			t.Errorf("explain %v: exit %d\n%s%s", c.args, code, stdout, stderr)
		}
		for _, line := range strings.Split(stdout, "\n") {
			if len([]rune(line)) > 80 {
				t.Errorf("explain %v: longer than 80 columns: %q", c.args, line)
			}
		}
	}
	_, stdout, _ := halfpour(context.Background(), "explain", "--json")
	var all explainReport
	if err := json.Unmarshal([]byte(stdout), &all); err != nil || len(all.Codes) != len(explainCodes()) || len(all.Keys) != len(pourplan.KeyNames()) {
		t.Errorf("%v, %d codes, %d keys", err, len(all.Codes), len(all.Keys))
	}
}

// Every finding of the bad jobs that are kept as examples is explained.
func TestGoldenErrorsAreExplained(t *testing.T) {
	wants, err := filepath.Glob(filepath.Join(badFolder, "*", "want.txt"))
	if err != nil || len(wants) < 10 {
		t.Fatalf("%d, %v", len(wants), err)
	}
	bracketed := regexp.MustCompile(`(?m)^halfpour: error: .*\[([a-z-]+)\]$`)
	seen := map[string]bool{}
	for _, path := range wants {
		for _, m := range bracketed.FindAllStringSubmatch(readText(t, path), -1) {
			seen[m[1]] = true
		}
	}
	for code := range maps.Keys(seen) {
		if !slices.Contains(explainCodes(), code) {
			t.Errorf("%q is not explained", code)
		}
	}
	if len(seen) < 10 {
		t.Errorf("the bad jobs show only %d codes", len(seen))
	}
}

// The drawing of a hook fits a terminal and names every key of a dimension, in the
// drawing or below it, and no other.
func TestExplainHookDrawsIt(t *testing.T) {
	code, out, _ := halfpour(context.Background(), "explain", "hook")
	if code != 0 || !strings.Contains(out, pourplan.HookDrawing) {
		t.Fatalf("exit %d: %s", code, out)
	}
	for _, line := range strings.Split(pourplan.HookDrawing, "\n") {
		if utf8.RuneCountInString(line) > 84 {
			t.Errorf("%d wide: %s", len(line), line)
		}
	}
	known := pourplan.KeyNames()
	for _, key := range []string{"eye_inside", "over_eye", "leg", "over_leg", "shank", "over_length", "gape", "over_gape", "point", "over_point", "leg_angle"} {
		if !slices.Contains(known, "hook."+key) || !strings.Contains(pourplan.HookDrawing, "  "+key+" ") {
			t.Errorf("%s is no key, or not in the drawing", key)
		}
	}
	if _, out, _ := halfpour(context.Background(), "explain", "sprue"); strings.Contains(out, "over_leg") {
		t.Error("the drawing of a hook beside another table")
	}
}

// It is decided of every finding whether the pour sheet says it.
func TestEveryFindingHasAPlaceAtTheBench(t *testing.T) {
	n := 0
	for _, g := range explainGroups() {
		if !strings.HasPrefix(g.title, "Findings") {
			continue
		}
		for _, e := range g.about {
			if n++; !pourplan.HasBenchPlace(e.code) {
				t.Errorf("place %q in pourplan/finding_bench.go: does a person at the bench have to know it?", e.code)
			}
		}
	}
	if n < 60 {
		t.Errorf("looked at only %d findings", n)
	}
}
