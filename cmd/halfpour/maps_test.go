package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// mostWithoutMap is how many files a package may have whose comment lists none.
const mostWithoutMap = 6

var goFile = regexp.MustCompile(`[a-z0-9_*]+\.go\b`)

// A package comment that lists files lists all of them and no others.
func TestPackageCommentsMapTheirFiles(t *testing.T) {
	for folder, files := range goFolders(t) {
		var comment string
		files = slices.DeleteFunc(files, func(name string) bool { return strings.HasSuffix(name, "_test.go") })
		for _, name := range files {
			f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(folder, name), nil, parser.ParseComments|parser.PackageClauseOnly)
			if err != nil {
				t.Fatal(err)
			}
			comment += f.Doc.Text()
		}
		list := goFile.FindAllString(comment, -1)
		if len(list) == 0 && len(files) <= mostWithoutMap {
			continue
		}
		lists := func(name string) func(string) bool {
			return func(pattern string) bool { ok, _ := path.Match(pattern, name); return ok }
		}
		for _, name := range files {
			if name != "doc.go" && !slices.ContainsFunc(list, lists(name)) {
				t.Errorf("%s: the package comment does not list %s", folder, name)
			}
		}
		for _, pattern := range list {
			if !slices.ContainsFunc(files, func(name string) bool { return lists(name)(pattern) }) {
				t.Errorf("%s: the package comment lists %s, which is not there", folder, pattern)
			}
		}
	}
}

// goFolders are the folders of packages with their files.
func goFolders(t *testing.T) map[string][]string {
	folders := map[string][]string{}
	err := filepath.WalkDir(filepath.Join("..", ".."), func(name string, d fs.DirEntry, err error) error {
		switch hidden := strings.HasPrefix(d.Name(), ".") && d.Name() != ".."; {
		case err != nil:
			return err
		case d.IsDir() && hidden:
			return fs.SkipDir
		case strings.HasSuffix(name, ".go"):
			folders[filepath.Dir(name)] = append(folders[filepath.Dir(name)], d.Name())
		}
		return nil
	})
	if err != nil || len(folders) < 15 {
		t.Fatalf("found %d packages, %v", len(folders), err)
	}
	return folders
}

var (
	linkTo   = regexp.MustCompile(`\]\(([^)#]+)[^)]*\)`)
	pathText = regexp.MustCompile("`([a-zA-Z0-9_.*-]+(?:/[a-zA-Z0-9_.*-]+)*(?:\\.go|/))`")
)

// Links of the documents lead to files, and the Go files and folders that
// DEVELOPERS.md names are there.
func TestDocumentsNameFilesThatExist(t *testing.T) {
	root := filepath.Join("..", "..")
	documents, err := filepath.Glob(filepath.Join(root, "docs", "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	developers := filepath.Join(root, "DEVELOPERS.md")
	documents = append(documents, developers, filepath.Join(root, "README.md"), filepath.Join(root, "examples", "README.md"))
	links := 0
	for _, document := range documents {
		for _, m := range linkTo.FindAllStringSubmatch(readText(t, document), -1) {
			if strings.Contains(m[1], "://") {
				continue
			}
			links++
			if _, err := os.Stat(filepath.Join(filepath.Dir(document), filepath.FromSlash(m[1]))); err != nil {
				t.Errorf("%s links to %s: %v", document, m[1], err)
			}
		}
	}
	if links < 20 {
		t.Errorf("found %d links", links)
	}
	var all []string
	for folder, files := range goFolders(t) {
		rel, _ := filepath.Rel(root, folder)
		for _, name := range files {
			all = append(all, filepath.ToSlash(filepath.Join(rel, name)))
		}
	}
	for _, m := range pathText.FindAllStringSubmatch(readText(t, developers), -1) {
		if _, err := os.Stat(filepath.Join(root, m[1])); err == nil {
			continue
		}
		if !slices.ContainsFunc(all, func(file string) bool { return endsWith(file, m[1]) }) {
			t.Errorf("DEVELOPERS.md names %s, which is not there", m[1])
		}
	}
}

// endsWith reports whether the last elements of a path are those of a pattern.
func endsWith(file, pattern string) bool {
	elements, n := strings.Split(file, "/"), 1+strings.Count(pattern, "/")
	ok, _ := path.Match(pattern, strings.Join(elements[max(0, len(elements)-n):], "/"))
	return ok
}
