package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
	"halfpour/pourplan/desk"
)

// deskFolder is the folder whose jobs the desk can open: those in it and those
// one folder below. A link that leads out of it is not followed.
type deskFolder struct{ dir string }

// mostEntries is how many names of a folder are looked at.
const mostEntries = 1000

// jobs lists the jobs by their names below the folder, with slashes, in order;
// all is false if a folder has too many names. A folder that is not there has none.
func (d deskFolder) jobs() (list []string, all bool, err error) {
	root, err := os.OpenRoot(d.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, true, nil
	}
	if err != nil {
		return nil, false, err
	}
	defer root.Close()
	list, folders, all, err := jobsIn(root, ".")
	for _, folder := range folders {
		more, _, whole, _ := jobsIn(root, folder) // one that cannot be read has none
		list, all = append(list, more...), all && whole
	}
	slices.Sort(list)
	return list, all, err
}

// jobsIn lists the jobs and the folders in one folder of a root.
func jobsIn(root *os.Root, dir string) (jobs, folders []string, all bool, err error) {
	f, err := root.Open(dir)
	if err != nil {
		return nil, nil, false, err
	}
	defer f.Close()
	entries, err := f.ReadDir(mostEntries + 1)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, nil, false, err
	}
	for _, e := range entries[:min(len(entries), mostEntries)] {
		name := path.Join(dir, e.Name())
		info, err := root.Stat(name)
		switch {
		case err != nil || strings.HasPrefix(e.Name(), "."): // or a link that leads out
		case info.IsDir():
			folders = append(folders, name)
		case info.Mode().IsRegular() && isJobName(e.Name()):
			jobs = append(jobs, name)
		}
	}
	return jobs, folders, len(entries) <= mostEntries, nil
}

// isJobName reports whether a file's name is that of a job.
func isJobName(name string) bool {
	return strings.EqualFold(filepath.Ext(name), ".toml") && !strings.EqualFold(name, pourplan.HooksFile) && !strings.EqualFold(name, pourplan.ShelfFile)
}

// path is where a job of the list is.
func (d deskFolder) path(name string) (string, error) {
	list, _, err := d.jobs()
	if err != nil {
		return "", err
	}
	if !slices.Contains(list, name) {
		return "", fmt.Errorf("there is no job %q in this folder", name)
	}
	return filepath.Join(d.dir, filepath.FromSlash(name)), nil
}

// nameOf is a job's name in the list.
func (d deskFolder) nameOf(file string) string {
	if name, err := filepath.Rel(d.dir, file); err == nil && filepath.IsLocal(name) {
		return filepath.ToSlash(name)
	}
	return filepath.Base(file)
}

// free says why new files cannot have names in a folder: another file or folder
// has one of them, in letters of whatever case.
func free(dir string, names ...string) error {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for _, name := range names {
		if slices.ContainsFunc(entries, func(e os.DirEntry) bool { return strings.EqualFold(e.Name(), name) }) {
			return fmt.Errorf("%q is there already and is left alone: choose another name", name)
		}
	}
	return nil
}

// start writes a new job and what belongs to it into a new folder, and returns
// where the job is.
func (d deskFolder) start(ctx context.Context, name string, files []starterFile) (string, error) {
	if err := pourplan.CheckName(name); err != nil {
		return "", err
	}
	if err := free(d.dir, name); err != nil {
		return "", err
	}
	dir := filepath.Join(d.dir, name)
	return filepath.Join(dir, files[0].name), writeNew(ctx, dir, files, false)
}

// copy writes a job's text beside it under another name, and returns where that is.
// Files of an earlier job of that name would become the copy's: then it fails.
func (d deskFolder) copy(ctx context.Context, name, as string) (string, error) {
	from, err := d.path(name)
	if err != nil {
		return "", err
	}
	as = strings.TrimSuffix(as, ".toml")
	file, dir := as+".toml", filepath.Dir(from)
	if err := pourplan.CheckName(as); err != nil {
		return "", err
	}
	if !isJobName(file) {
		return "", fmt.Errorf("%s is the file of hooks or the shelf: choose another name", file)
	}
	if err := free(dir, file, as+"-out", as+"-castings.csv"); err != nil {
		return "", err
	}
	src, err := fileset.ReadFile(ctx, from, pourplan.MaxJobBytes)
	if err != nil {
		return "", err
	}
	text, err := desk.Copy(string(src), shortTitle(as))
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, file), writeNew(ctx, dir, []starterFile{{file, []byte(text)}}, false)
}
