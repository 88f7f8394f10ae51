package fileset

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// JournalName is the file that says, while a set is put in place, which names
// its files get. It stands in the folder from before the first renaming until
// after the last, so that one that is found without its program means that the
// folder holds files of two runs. It is not hidden: a person should see it too.
//
// A whole new folder in exchange for the old one would be one renaming, but
// pull the folder from under whoever stands in it, lose what a person has put
// there beside the outputs, and cannot be had on every system.
const JournalName = "halfpour-unfinished.json"

// journalAbout is for a person who opens the folder.
const journalAbout = "halfpour was stopped while it put files in place here: some are new, others still those of an earlier run. " +
	"Print and pour nothing of them yet; any halfpour command on the job puts the rest in place."

const journalSchema = 1

// maxJournalBytes is far beyond any journal: a file takes some 200 bytes.
const maxJournalBytes = 1 << 20

// maxSetBytes is far beyond any file of a set: to look whether one is in place
// is to read all of it.
const maxSetBytes = 8 << 30

// journal lists the files of a set.
type journal struct {
	About  string        `json:"about"`
	Schema int           `json:"schema"` // journalSchema
	Files  []journalFile `json:"files"`
}

// journalFile is a file of the set, in the journal's own folder or in one in
// that, before the slash: under Temp until it is put in place, then under Name.
type journalFile struct {
	Name   string `json:"name"`
	Temp   string `json:"temp"`
	Size   int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// newJournal lists files in the order of their names.
func newJournal(files []pendingFile) *journal {
	j := &journal{About: journalAbout, Schema: journalSchema}
	for _, f := range files {
		j.Files = append(j.Files, journalFile{f.name, f.temp, f.size, f.digest})
	}
	slices.SortFunc(j.Files, func(a, b journalFile) int { return cmp.Compare(a.Name, b.Name) })
	return j
}

// writeJournal puts the set's journal into its folder, whole and on the disk.
func (s *Set) writeJournal(j *journal) error {
	data, err := json.MarshalIndent(j, "", "  ")
	if err != nil {
		return err
	}
	j.sync(s.dir) // what it names is there before it is
	f, err := s.createTemp(s.folders["."], JournalName)
	if err != nil {
		return err
	}
	_, err = f.Write(append(data, '\n'))
	if err = errors.Join(err, synced(f), f.Close()); err == nil {
		err = s.move(f.Name(), filepath.Join(s.dir, JournalName))
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	_ = SyncFolder(s.dir)
	return nil
}

// folders are those in the journal's own that have files of the set.
func (j *journal) folders() (list []string) {
	for _, f := range j.Files {
		if in := path.Dir(f.Name); in != "." && !slices.Contains(list, in) {
			list = append(list, in)
		}
	}
	return list
}

// reaches reports whether files of the set are in a folder of that name.
func (j *journal) reaches(name string) bool { return slices.Contains(j.folders(), name) }

// sync puts the names in all folders of the set on the disk.
func (j *journal) sync(dir string) {
	for _, in := range append(j.folders(), ".") {
		_ = SyncFolder(filepath.Join(dir, in))
	}
}

// readJournal reads a folder's journal, nil when there is none.
func readJournal(ctx context.Context, dir string) (*journal, error) {
	data, err := ReadFile(ctx, filepath.Join(dir, JournalName), maxJournalBytes)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return decodeJournal(data)
}

// decodeJournal takes no name that leads out of the folder, and none that is
// not a set's: a journal may come with a folder from anywhere.
func decodeJournal(data []byte) (*journal, error) {
	j := &journal{}
	dec := json.NewDecoder(bytes.NewReader(data))
	if err := dec.Decode(j); err != nil {
		return nil, fmt.Errorf("must be JSON: %w", err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, errors.New("must be one JSON object, got more")
	}
	if j.Schema != journalSchema || len(j.Files) == 0 {
		return nil, fmt.Errorf("must have schema %d and files, got %d and %d files", journalSchema, j.Schema, len(j.Files))
	}
	seen := map[string]bool{}
	for _, f := range j.Files {
		digest, err := hex.DecodeString(f.SHA256)
		switch {
		case !plainPath(f.Name) || seen[strings.ToLower(f.Name)]:
			return nil, fmt.Errorf("must name each file once and in its own folder or one in that, got %q", f.Name)
		case nameOf(f.Temp) != f.Name:
			return nil, fmt.Errorf("must name the temporary file of %s, got %q", f.Name, f.Temp)
		case f.Size < 0 || f.Size > maxSetBytes || err != nil || len(digest) != sha256.Size:
			return nil, fmt.Errorf("must have size and SHA-256 of %s, got %d and %q", f.Name, f.Size, f.SHA256)
		}
		seen[strings.ToLower(f.Name)] = true
	}
	return j, nil
}

// plainPath reports whether a name is that of a file in a folder, or in a folder
// in that.
func plainPath(name string) bool {
	dir, base := path.Split(name)
	return plainName(base) && (dir == "" || plainName(dir[:len(dir)-1]))
}

// plainName reports whether a name is that of a file in a folder, on any
// system, and neither hidden nor the journal's own.
func plainName(name string) bool {
	return name != "" && name[0] != '.' && filepath.IsLocal(name) && !strings.ContainsAny(name, "/\\:\x00") && !strings.EqualFold(name, JournalName)
}

// isOn reports whether the file at a path is the one that is listed: a regular
// file of its size and content.
func (f journalFile) isOn(ctx context.Context, path string) (bool, error) {
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && (!info.Mode().IsRegular() || info.Size() != f.Size) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	digest, err := inBackground(ctx, func() (string, error) {
		file, err := openRegular(path, os.O_RDONLY)
		if err != nil {
			return "", err
		}
		defer file.Close()
		sum := sha256.New()
		_, err = io.Copy(sum, io.LimitReader(&interruptibleReader{ctx, file}, f.Size))
		return hex.EncodeToString(sum.Sum(nil)), err
	})
	return err == nil && digest == strings.ToLower(f.SHA256), err
}
