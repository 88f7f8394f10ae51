package main

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/cmd/halfpour/live"
	"halfpour/pourplan"
)

// zip hands out the job, what it is made of and what was built of it, as one file.
func (d *deskBuild) zip(ctx context.Context, _ string, _ []byte) live.Reply {
	f, err := d.read(ctx)
	if err == nil {
		var data []byte
		if data, err = f.pack(ctx); err == nil {
			return live.Reply{Type: "application/zip", Attach: f.name() + ".zip", Body: data}
		}
	}
	return live.Reply{Status: http.StatusUnprocessableEntity, Type: "text/plain", Body: []byte(err.Error())}
}

// pack packs the job's files that are in its folder, its accounts, and its output
// folder into a ZIP file. Nothing is compressed: it is quick, and 3MF and pictures
// are packed already.
func (f *jobFile) pack(ctx context.Context) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	put := func(name, place string) error {
		data, err := fileset.ReadFile(ctx, place, mostFile)
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
		part, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		if err == nil {
			_, err = part.Write(data)
		}
		return err
	}
	own := f.files()
	for _, m := range f.job.Molds() {
		own = append(own, f.accountOf(m))
	}
	for _, place := range own {
		if name, err := filepath.Rel(f.folder(), place); err == nil && filepath.IsLocal(name) {
			if err := put(filepath.ToSlash(name), place); err != nil {
				return nil, err
			}
		}
	}
	folder := f.outputFolder("")
	for _, name := range f.names() {
		if err := put(path.Join(filepath.Base(folder), name), filepath.Join(folder, filepath.FromSlash(name))); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return out.Bytes(), err
}

// unpack takes a job and what it is made of out of a ZIP file, the job first. What
// is in folders is left: it can be built again.
func unpack(data []byte) ([]starterFile, error) {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, errors.New("this is no ZIP file, or it is cut off")
	}
	var list []starterFile
	left := int64(mostDropped)
	for _, entry := range r.File {
		if strings.ContainsAny(entry.Name, `/\`) || !slices.Contains([]string{".toml", ".csv", ".stl", ".obj", ".3mf"}, strings.ToLower(path.Ext(entry.Name))) {
			continue
		}
		if err := pourplan.CheckName(entry.Name); err != nil {
			return nil, err
		}
		part, err := entry.Open()
		if err != nil {
			return nil, err
		}
		body, err := io.ReadAll(io.LimitReader(part, left+1))
		if err != nil {
			return nil, err
		}
		if left -= int64(len(body)); left < 0 {
			return nil, fmt.Errorf("the files are larger than %d MB", mostDropped>>20)
		}
		list = append(list, starterFile{entry.Name, body})
	}
	job := func(f starterFile) bool { return isJobName(f.name) }
	first := slices.IndexFunc(list, job)
	if first < 0 || slices.ContainsFunc(list[first+1:], job) {
		return nil, errors.New("the archive must have one job file, outside its folders")
	}
	list[0], list[first] = list[first], list[0]
	return list, nil
}
