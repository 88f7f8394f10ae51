package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "halfpour"

// layers are folders from the bottom up: a package imports of its own layer and
// of those below. The demo heads know shapes alone. Within a layer a package
// imports only those above and below it in the tree: a room and its side rooms
// know each other, side rooms do not.
var layers = []string{"geom/heap", "geom/parallel", "geom/unionfind", "geom", "examples/heads", "moldbox", "pourplan", "examples", "cmd"}

// programs take from all rooms of their layer.
var programs = []string{"geom/geomtest/tray", "examples/gen"}

// users are the modules that are used at all, each with the files that may
// know it.
var users = map[string][]string{
	"codeberg.org/go-pdf/fpdf":      {"pourplan/sheet/pdf.go"},
	"github.com/BurntSushi/toml":    {"pourplan/job_*.go", "pourplan/desk/value.go"},
	"github.com/boombuler/barcode":  {"pourplan/sheet/labels.go"},
	"github.com/klauspost/compress": {"geom/threemf/writer.go"},
	"github.com/urfave/cli/v2":      {"cmd/halfpour/*.go"},
	"golang.org/x/image":            {"geom/text.go", "geom/picture/label.go", "pourplan/sheet/*.go"},
	"golang.org/x/net":              {"cmd/halfpour/live/server.go"},
	"golang.org/x/sync":             {"moldbox/*.go", "pourplan/making/*.go", "cmd/halfpour/*.go"},
	"golang.org/x/sys":              {"cmd/halfpour/fileset/lock_windows.go", "cmd/halfpour/system/*_windows.go"},
	"golang.org/x/term":             {"cmd/halfpour/terminal.go", "cmd/halfpour/system/start_other.go"},
}

// The arrows between packages point one way.
func TestImports(t *testing.T) {
	root := filepath.Join("..", "..")
	files := 0
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(name) != ".go" {
			if d != nil && d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != ".." {
				return fs.SkipDir
			}
			return err
		}
		files++
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range f.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			if fault := importFault(rel, imported); fault != "" {
				t.Errorf("%s imports %s: %s", rel, imported, fault)
			}
		}
		return nil
	})
	if err != nil || files < 100 {
		t.Errorf("read %d files, %v", files, err)
	}
}

// importFault says what is wrong with an import in a file, "" for nothing.
func importFault(file, imported string) string {
	for name, files := range users {
		if imported != name && !strings.HasPrefix(imported, name+"/") {
			continue
		}
		for _, pattern := range files {
			if ok, _ := path.Match(pattern, file); ok {
				return ""
			}
		}
		return "only " + strings.Join(files, ", ") + " may"
	}
	inner, ours := strings.CutPrefix(imported, module+"/")
	if !ours {
		if first, _, _ := strings.Cut(imported, "/"); strings.Contains(first, ".") {
			return "not one of the modules in users"
		}
		return ""
	}
	from, to := layer(file), layer(inner)
	if from < 0 || to < 0 || to > from {
		return "an arrow that points back"
	}
	room := path.Dir(file)
	if from == to && !within(room, inner) && !within(inner, room) && !strings.Contains(inner, "/internal/") &&
		!slices.Contains(programs, room) && !strings.HasSuffix(file, "_test.go") {
		return "a room beside it"
	}
	return ""
}

// within reports whether a folder is another or somewhere in it.
func within(folder, outer string) bool { return strings.HasPrefix(folder+"/", outer+"/") }

func layer(name string) int {
	return slices.IndexFunc(layers, func(folder string) bool { return within(name, folder) })
}

// The rule itself tells right from wrong.
func TestImportFault(t *testing.T) {
	for _, c := range []struct {
		file, imported string
		fine           bool
	}{
		{"cmd/halfpour/a.go", "halfpour/geom", true},
		{"pourplan/a.go", "halfpour/moldbox", true},
		{"pourplan/a.go", "strings", true},
		{"geom/stl/a.go", "halfpour/geom", true},
		{"geom/stl/a.go", "halfpour/geom/internal/meshtext", true},
		{"cmd/halfpour/a.go", "halfpour/cmd/halfpour/live", true},
		{"geom/picture/a.go", "halfpour/geom/column", false},
		{"geom/picture/a_test.go", "halfpour/geom/geomtest", true},
		{"geom/geomtest/tray/a.go", "halfpour/geom/picture", true},
		{"geom/a.go", "halfpour/geom/parallel", true},
		{"geom/parallel/a.go", "halfpour/geom", false},
		{"geom/a.go", "halfpour/moldbox", false},
		{"moldbox/a.go", "halfpour/pourplan", false},
		{"pourplan/a.go", "halfpour/cmd/halfpour", false},
		{"moldbox/head/a_test.go", "halfpour/examples/heads", true},
		{"moldbox/head/a.go", "halfpour/examples", false},
		{"pourplan/job_read.go", "github.com/BurntSushi/toml", true},
		{"pourplan/plan.go", "github.com/BurntSushi/toml", false},
		{"moldbox/a.go", "github.com/BurntSushi/toml/internal", false},
		{"moldbox/a.go", "github.com/somebody/something", false},
	} {
		if got := importFault(c.file, c.imported); (got == "") != c.fine {
			t.Errorf("%s importing %s: %q", c.file, c.imported, got)
		}
	}
}
