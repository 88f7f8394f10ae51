package main

import (
	"context"
	"io"
	"path"
	"path/filepath"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
	"halfpour/pourplan/page"
)

// products are the molds of a run that is made, as they are to be written into
// the output folder.
func (f *jobFile) products(run *making.Run, opt buildOptions) []*product {
	var list []*product
	for _, m := range run.Molds {
		p := &product{Mold: m, paper: papers[m.Job.Output.Paper], folder: filepath.Join(f.outputFolder(opt.out), m.Folder),
			effort: effortOf(m, opt.coarse), sizes: pagesOf(run, m)}
		if opt.paper != "" {
			p.paper = papers[opt.paper]
		}
		list = append(list, p)
	}
	return list
}

// pagesOf leads from a size's page in its folder to those of all sizes.
func pagesOf(run *making.Run, m *making.Mold) []page.Size {
	if m.Name == "" {
		return nil
	}
	var list []page.Size
	for _, other := range run.Molds {
		list = append(list, page.Size{Name: other.Name, Address: "../" + other.Folder + "/" + pageName, Shown: other == m})
	}
	return list
}

// written is what a build has written.
type written struct {
	folder string
	molds  [][]writtenFile // of each
	files  []writtenFile   // beside the folders of the sizes
}

// count is how many files were written.
func (w written) count() int {
	n := len(w.files)
	for _, files := range w.molds {
		n += len(files)
	}
	return n
}

// writeAll writes the folders of all molds and, of a job that has sizes, the
// buying list: all of them, or nothing.
func writeAll(ctx context.Context, bar *progress, products []*product, list *pourplan.RunList, folder string) (written, error) {
	r := written{folder: folder}
	set, err := fileset.New(ctx, folder)
	if err != nil {
		return r, err
	}
	defer set.Discard()
	for _, p := range products {
		report := bar.part(p.effort.shares().write / float64(len(products)))
		if err := p.write(ctx, set, func(stage string, done float64) { report(ofSize(p.Mold, stage), done) }); err != nil {
			return r, inSize(p.Name, err)
		}
	}
	if list != nil {
		for _, f := range listFiles {
			if err := set.Create(ctx, f.name, func(w io.Writer) error { return f.write(list, w) }); err != nil {
				return r, err
			}
		}
	}
	if err := ctx.Err(); err != nil {
		return r, err
	}
	sizes := set.Sizes()
	if err := set.Commit(); err != nil {
		return r, err
	}
	place := func(in, name string) writtenFile {
		return writtenFile{name, filepath.Join(folder, in, name), sizes[path.Join(in, name)]}
	}
	for _, p := range products {
		var files []writtenFile
		for _, f := range outputs {
			files = append(files, place(p.Folder, f.name))
		}
		r.molds = append(r.molds, files)
	}
	if list != nil {
		for _, f := range listFiles {
			r.files = append(r.files, place("", f.name))
		}
	}
	return r, nil
}

// listFiles are the files that a size run has beside its folders.
var listFiles = []struct {
	name  string
	write func(*pourplan.RunList, io.Writer) error
}{
	{"buying-list.txt", func(l *pourplan.RunList, w io.Writer) error {
		_, err := io.WriteString(w, l.Text())
		return err
	}},
	{"buying-list.json", func(l *pourplan.RunList, w io.Writer) error {
		data, err := l.JSON()
		if err == nil {
			_, err = w.Write(data)
		}
		return err
	}},
}
