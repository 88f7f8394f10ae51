package desk

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"halfpour/pourplan"
)

// Schema is the version of the form. Fields may be added without a new one.
const Schema = 1

// Form is a job as a page shows it.
type Form struct {
	Schema   int       `json:"schema"`
	File     string    `json:"file"`     // as the person named it
	Seen     string    `json:"seen"`     // names the file and the text that this is the form of
	Title    string    `json:"title"`    // of the job
	Tables   []Table   `json:"tables"`   // in the order of the reference
	More     []More    `json:"more"`     // tables that can be added
	Problems []Problem `json:"problems"` // all that is wrong with the job's text
	Undo     bool      `json:"undo"`     // there is something to undo
	Redo     bool      `json:"redo"`     // there is something to do again

	shelf pourplan.Library // what the job may name
}

// Title is the title of a job's text, "" for none, also of a text that is no job.
func Title(src string) string { return shown(pourplan.KeyTexts(src)["title"]) }

// Table is a table of the job.
type Table struct {
	Path    string  `json:"path"`              // "hook", "cavity[1]"; "" for the top of the file
	Name    string  `json:"name"`              // for a heading: "hook", "cavity 2"
	Meaning string  `json:"meaning"`           // of the table
	Drawing string  `json:"drawing,omitempty"` // in plain text, of where its measures are taken
	Fields  []Field `json:"fields"`
}

// Field is a key of the job.
type Field struct {
	Path     string   `json:"path"`              // "hook.wire"
	Name     string   `json:"name"`              // "wire"
	Kind     string   `json:"kind"`              // of its values, in words
	Unit     string   `json:"unit,omitempty"`    // of a bare number
	Default  string   `json:"default,omitempty"` // what leaving it out stands for
	Limits   string   `json:"limits,omitempty"`
	Meaning  string   `json:"meaning"`
	Words    []string `json:"words,omitempty"` // that it is one of
	Offers   []string `json:"offers,omitempty"`
	Main     bool     `json:"main,omitempty"` // one of those that matter most
	Given    bool     `json:"given,omitempty"`
	Text     string   `json:"text"`               // as the field shows it; "" for a key that is left out
	Problems []string `json:"problems,omitempty"` // in words
}

// More is a table that a job may have several of.
type More struct {
	Name    string `json:"name"`
	Meaning string `json:"meaning"`
}

// Problem is one thing that is wrong with the job's text.
type Problem struct {
	Path    string `json:"path,omitempty"` // of the key, "" for the whole
	Line    int    `json:"line,omitempty"` // from 1
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
}

// mainKeys are those that stand first: what every new mold is given.
var mainKeys = []string{"title", "cavities", "turn", "head.file", "head.unit", "head.nose", "head.back", "head.left", "head.parting", "head.eye", "head.gate",
	"hook.wire", "hook.eye_inside", "hook.leg", "hook.shank", "weight.target", "metal.preset", "casting.heads", "rubber.preset", "sprue.mouth"}

// NewForm makes the form of a job's text, with the hooks beside it; nil for none.
// A text that cannot be read gives a form of what can be, with its problems.
func NewForm(file, src string, hooks pourplan.Library) *Form {
	f := &Form{Schema: Schema, File: file, Seen: NameOf(file, src), Tables: []Table{}, Problems: []Problem{}}
	job, err := pourplan.ReadJobWith(file, []byte(src), hooks)
	var wrong pourplan.JobErrors
	if errors.As(err, &wrong) {
		for _, e := range wrong {
			p := Problem{e.Key, e.Line, e.Err.Error(), e.Hint}
			if e.File != file { // that of the hooks
				p = Problem{Message: fmt.Sprintf("%s, line %d: %s: %s", filepath.Base(e.File), e.Line, e.Key, e.Err), Hint: e.Hint}
			}
			f.Problems = append(f.Problems, p)
		}
	}
	texts := pourplan.KeyTexts(src)
	f.shelf = hooks
	f.Title = Title(src)
	if job != nil {
		f.Title = job.Title
	}
	for _, t := range pourplan.JobTables() {
		if !t.List {
			f.Tables = append(f.Tables, f.table(t, t.Name, t.Name, texts))
			continue
		}
		f.More = append(f.More, More{t.Name, t.Meaning})
		for i := 0; hasTable(texts, fmt.Sprintf("%s[%d]", t.Name, i)); i++ {
			path := fmt.Sprintf("%s[%d]", t.Name, i)
			f.Tables = append(f.Tables, f.table(t, path, fmt.Sprintf("%s %d", t.Name, i+1), texts))
			for _, sub := range t.As {
				if own, ok := tableNamed(sub); ok && !own.List && hasTable(texts, path+"."+sub) {
					f.Tables = append(f.Tables, f.table(own, path+"."+sub, fmt.Sprintf("%s %d: %s", t.Name, i+1, sub), texts))
				}
			}
		}
	}
	return f
}

func tableNamed(name string) (pourplan.TableDoc, bool) {
	tables := pourplan.JobTables()
	i := slices.IndexFunc(tables, func(t pourplan.TableDoc) bool { return t.Name == name })
	if i < 0 {
		return pourplan.TableDoc{}, false
	}
	return tables[i], true
}

func hasTable(texts map[string]string, path string) bool {
	for key := range texts {
		if key == path || strings.HasPrefix(key, path+".") {
			return true
		}
	}
	return false
}

func (f *Form) table(doc pourplan.TableDoc, path, name string, texts map[string]string) Table {
	t := Table{Path: path, Name: name, Meaning: doc.Meaning}
	if doc.Name == "hook" {
		t.Drawing = pourplan.HookDrawing
	}
	for _, k := range doc.Keys {
		own := strings.TrimPrefix(k.Name, doc.Name+".")
		at := own
		if path != "" {
			at = path + "." + own
		}
		text, given := texts[at]
		field := Field{Path: at, Name: own, Kind: k.Kind, Unit: k.Unit, Default: k.Default, Limits: k.Limits, Meaning: k.Meaning,
			Words: k.Words, Offers: pourplan.Presets(k.Name), Main: slices.Contains(mainKeys, at), Given: given}
		if given {
			field.Text = shown(text)
		}
		if table, ok := strings.CutSuffix(k.Name, ".use"); ok {
			field.Offers = f.shelf.Names(table)
		}
		for _, p := range f.Problems {
			if p.Path == at {
				field.Problems = append(field.Problems, p.Message)
			}
		}
		t.Fields = append(t.Fields, field)
	}
	return t
}

// ErrNoField says that a path is of no key of a job.
var ErrNoField = errors.New("is not a key of a job")

// docOf finds what a path's key is: cavity[1].hook.wire is as hook.wire.
func docOf(path string) (pourplan.KeyDoc, error) {
	parts := strings.Split(path, ".")
	if strings.HasPrefix(parts[0], "cavity[") || strings.HasPrefix(parts[0], "size[") {
		if len(parts) == 3 {
			parts = parts[1:]
		}
	}
	for i, p := range parts {
		parts[i], _, _ = strings.Cut(p, "[")
	}
	name := strings.Join(parts, ".")
	for _, t := range pourplan.JobTables() {
		for _, k := range t.Keys {
			if k.Name == name {
				return k, nil
			}
		}
	}
	return pourplan.KeyDoc{}, fmt.Errorf("%s: %w", path, ErrNoField)
}

// Set returns the text of a job with what a person typed at a key; nothing
// typed leaves the key out. The error is of package pourplan, ErrNoField, or
// what is wrong with the value itself; what the value makes wrong elsewhere is
// on the new text's form.
func Set(file, src, path, typed string, hooks pourplan.Library) (string, error) {
	k, err := docOf(path)
	if err != nil {
		return "", err
	}
	if strings.TrimSpace(typed) == "" {
		return pourplan.DropKey(src, path)
	}
	text, err := pourplan.SetKey(src, path, toTOML(k, typed))
	if err != nil {
		return "", err
	}
	_, err = pourplan.ReadJobWith(file, []byte(text), hooks)
	var wrong pourplan.JobErrors
	if errors.As(err, &wrong) {
		for _, e := range wrong {
			if e.Key == path && (e.Rule == pourplan.RuleValue || e.Rule == pourplan.RuleRange) {
				return "", e.Err
			}
		}
	}
	return text, nil
}

// Add returns the text of a job with one more of the tables that it may have
// several of. It fails with ErrNoField.
func Add(src, name string) (string, error) {
	for _, t := range pourplan.JobTables() {
		if t.List && t.Name == name {
			return pourplan.AddTable(src, name), nil
		}
	}
	return "", fmt.Errorf("[[%s]]: %w", name, ErrNoField)
}

// Remove returns the text of a job without one of the tables that it may have
// several of, by its path. The errors are those of package pourplan.
func Remove(src, path string) (string, error) { return pourplan.DropTable(src, path) }
