package pourplan

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

// withUnit is the end of the name of a figure that has a unit.
var withUnit = regexp.MustCompile(`_(mm|mm2|mm3|ml|us_fl_oz|g|g_cm3|percent|deg|c|k|j|s|money|heads)$`)

// withoutUnit are the figures that have none: counts, factors, parts of a
// ratio, and those whose unit stands beside or around them.
var withoutUnit = map[string]string{
	"schema": "number of the format", "ratio_a": "parts", "ratio_b": "parts", "scale": "factor", "shrink": "factor",
	"fill_factor": "factor", "fill_low_factor": "factor", "fill_high_factor": "factor", "shots": "count", "heads_wanted": "count", "triangles": "count",
	"molds": "count", "molds_low": "count", "molds_high": "count", "fed_factor": "factor", "account_factor": "factor", "left_over_molds": "count", "shots_per_melt": "count", "melts": "count", "room_factor": "factor",
	"life_low_shots": "count", "life_high_shots": "count",
	"rows": "count", "pairs": "count", "tried": "count", "vent_number": "number",
	"count": "count", "low": "of a range", "best": "of a range", "high": "of a range", "value": "unit beside it", "limit": "unit beside it",
}

// Every figure of the plan has its unit in its name.
func TestPlanUnits(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var look func(reflect.Type, string)
	look = func(typ reflect.Type, name string) {
		switch typ.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			look(typ.Elem(), name)
		case reflect.Struct:
			if typ == reflect.TypeFor[Range]() && withoutUnit[name] == "" && !withUnit.MatchString(name) {
				t.Errorf("range %q has no unit in its name", name)
			}
			if seen[typ] {
				return
			}
			seen[typ] = true
			for i := range typ.NumField() {
				f := typ.Field(i)
				key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
				if key == "" || key != strings.ToLower(key) {
					t.Errorf("%s.%s has the JSON name %q", typ.Name(), f.Name, key)
				}
				look(f.Type, key)
			}
		case reflect.Int, reflect.Float64:
			if withoutUnit[name] == "" && !withUnit.MatchString(name) {
				t.Errorf("figure %q has no unit in its name", name)
			}
		case reflect.String, reflect.Bool:
		default:
			t.Errorf("%q is a %v", name, typ)
		}
	}
	look(reflect.TypeFor[Plan](), "")
	if len(seen) < 10 {
		t.Errorf("looked at %d types only", len(seen))
	}
}

// Every field of the plan's types says what it is.
func TestPlanFieldsAreDocumented(t *testing.T) {
	fields := 0
	files, err := filepath.Glob("plan*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok || !spec.Name.IsExported() {
				return true
			}
			if st, ok := spec.Type.(*ast.StructType); ok {
				for _, f := range st.Fields.List {
					fields++
					if strings.TrimSpace(f.Doc.Text()+f.Comment.Text()) == "" {
						t.Errorf("%s: %s.%s has no comment", file, spec.Name, f.Names[0])
					}
				}
			}
			return false
		})
	}
	if fields < 140 {
		t.Errorf("found %d fields", fields)
	}
}
