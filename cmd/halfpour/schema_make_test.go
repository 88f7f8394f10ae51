package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// schemaMaker turns types of ours into JSON Schema, with the comments of their
// fields as descriptions.
type schemaMaker struct {
	t        *testing.T
	comments map[string]string // of types and fields: "pourplan.Plan", "pourplan.Plan.Title"
	defs     map[string]any
}

func newSchemaMaker(t *testing.T) *schemaMaker {
	m := &schemaMaker{t: t, comments: map[string]string{}}
	m.readComments("main", ".")
	m.readComments("pourplan", filepath.Join("..", "..", "pourplan"))
	m.readComments("moldbox", filepath.Join("..", "..", "moldbox"))
	return m
}

// readComments takes what stands above or behind each type and field.
func (m *schemaMaker) readComments(pkg, dir string) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		m.t.Fatal(err)
	}
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
		if err != nil {
			m.t.Fatal(err)
		}
		for _, d := range tree.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.TYPE {
				continue
			}
			for _, s := range g.Specs {
				spec := s.(*ast.TypeSpec)
				name := pkg + "." + spec.Name.Name
				about := strings.TrimPrefix(plainComment(spec.Doc.Text()+g.Doc.Text()), spec.Name.Name+" ")
				m.comments[name] = strings.TrimPrefix(about, "is ")
				if st, ok := spec.Type.(*ast.StructType); ok {
					for _, f := range st.Fields.List {
						for _, n := range f.Names {
							m.comments[name+"."+n.Name] = plainComment(f.Doc.Text() + f.Comment.Text())
						}
					}
				}
			}
		}
	}
}

// plainComment is a comment on one line, without the names of constants that
// only the source knows.
func plainComment(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if s == "reportSchema" {
		return "number of this document's form; within one number fields are only added"
	}
	for _, name := range []string{", PlanSchema", ", RunListSchema"} {
		s = strings.ReplaceAll(s, name, "")
	}
	return s
}

// schema is the whole schema of a document, as it is committed.
func (m *schemaMaker) schema(d schemaDocument) []byte {
	m.defs = map[string]any{}
	typ := reflect.TypeOf(d.example)
	root := m.object(typ)
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "halfpour " + d.name
	root["description"] = "This is " + d.about + ". An x-unit is the unit of the figure, or of all figures of the object, that it stands at."
	if len(m.defs) > 0 {
		root["$defs"] = m.defs
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(root); err != nil {
		m.t.Fatal(err)
	}
	return b.Bytes()
}

// object describes a struct.
func (m *schemaMaker) object(typ reflect.Type) map[string]any {
	properties, required := map[string]any{}, []string{}
	for i := range typ.NumField() {
		f := typ.Field(i)
		name, rest, tagged := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" || !f.IsExported() {
			continue
		}
		if name == "" {
			m.t.Errorf("%v.%s has no JSON name", typ, f.Name)
			continue
		}
		p := m.value(f.Type)
		if p["description"] = m.comments[typ.String()+"."+f.Name]; p["description"] == "" {
			m.t.Errorf("%v.%s has no comment: it is the description of %q", typ, f.Name, name)
		}
		if unit := unitInName(name); unit != "" {
			p["x-unit"] = unit
		}
		if name == "schema" {
			p["const"] = 1
		}
		properties[name] = p
		if !tagged || !strings.Contains(rest, "omitempty") && !strings.Contains(rest, "omitzero") {
			required = append(required, name)
		}
	}
	o := map[string]any{"type": "object", "properties": properties}
	if len(required) > 0 {
		o["required"] = required
	}
	return o
}

// value describes a type; a struct by reference.
func (m *schemaMaker) value(typ reflect.Type) map[string]any {
	switch typ.Kind() {
	case reflect.Pointer:
		return m.value(typ.Elem())
	case reflect.Struct:
		name := typ.Name()
		if _, known := m.defs[name]; !known {
			m.defs[name] = nil // in the making
			o := m.object(typ)
			o["description"] = m.comments[typ.String()]
			m.defs[name] = o
		}
		return map[string]any{"$ref": "#/$defs/" + name}
	case reflect.Slice:
		return map[string]any{"type": "array", "items": m.value(typ.Elem())}
	case reflect.Array:
		return map[string]any{"type": "array", "items": m.value(typ.Elem()), "minItems": typ.Len(), "maxItems": typ.Len()}
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	}
	m.t.Errorf("no schema for %v", typ)
	return map[string]any{}
}

// unitInName is the unit at the end of a figure's name.
func unitInName(name string) string {
	for _, u := range [][2]string{
		{"us_fl_oz", "US fl oz"}, {"g_cm3", "g/cm³"}, {"mm3", "mm³"}, {"mm", "mm"}, {"ml", "ml"}, {"percent", "%"}, {"deg", "°"},
		{"g", "g"}, {"c", "°C"}, {"k", "K"}, {"j", "J"}, {"s", "s"}, {"money", "the job's currency"}, {"heads", "heads"}, {"bytes", "bytes"},
	} {
		if strings.HasSuffix(name, "_"+u[0]) || name == "bytes" && u[0] == name {
			return u[1]
		}
	}
	return ""
}

// conformTo reports where a document does not keep to a schema of the kind that
// schemaMaker makes, and properties that the schema does not know.
func conformTo(schema, defs map[string]any, v any, at string) []string {
	if ref, ok := schema["$ref"].(string); ok {
		next, ok := defs[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
		if !ok {
			return []string{at + ": no definition " + ref}
		}
		return conformTo(next, defs, v, at)
	}
	var faults []string
	if want, ok := schema["const"]; ok && want != v {
		faults = append(faults, fmt.Sprintf("%s: is %v, want %v", at, v, want))
	}
	switch schema["type"] {
	case "object":
		return append(faults, objectConforms(schema, defs, v, at)...)
	case "array":
		list, ok := v.([]any)
		if !ok {
			return append(faults, fmt.Sprintf("%s: is %T, want an array", at, v))
		}
		if least, ok := schema["minItems"].(float64); ok && float64(len(list)) != least {
			faults = append(faults, fmt.Sprintf("%s: has %d items, want %g", at, len(list), least))
		}
		for i, x := range list {
			faults = append(faults, conformTo(schema["items"].(map[string]any), defs, x, fmt.Sprintf("%s[%d]", at, i))...)
		}
		return faults
	case "string":
		if _, ok := v.(string); !ok {
			faults = append(faults, fmt.Sprintf("%s: is %T, want a string", at, v))
		}
	case "boolean":
		if _, ok := v.(bool); !ok {
			faults = append(faults, fmt.Sprintf("%s: is %T, want a boolean", at, v))
		}
	case "number", "integer":
		x, ok := v.(float64)
		if !ok || schema["type"] == "integer" && x != float64(int64(x)) {
			faults = append(faults, fmt.Sprintf("%s: is %v, want a %s", at, v, schema["type"]))
		}
	default:
		faults = append(faults, fmt.Sprintf("%s: the schema has the type %v", at, schema["type"]))
	}
	return faults
}

func objectConforms(schema, defs map[string]any, v any, at string) []string {
	o, ok := v.(map[string]any)
	if !ok {
		return []string{fmt.Sprintf("%s: is %T, want an object", at, v)}
	}
	var faults []string
	properties, _ := schema["properties"].(map[string]any)
	required, _ := schema["required"].([]any)
	for _, name := range required {
		if _, there := o[name.(string)]; !there {
			faults = append(faults, fmt.Sprintf("%s: has no %v", at, name))
		}
	}
	for name, x := range o {
		p, known := properties[name].(map[string]any)
		if !known {
			faults = append(faults, fmt.Sprintf("%s: the schema does not know %q", at, name))
			continue
		}
		faults = append(faults, conformTo(p, defs, x, at+"."+name)...)
	}
	return faults
}
