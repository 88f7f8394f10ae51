package fileset

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Probe says early that nothing can be written into a folder, or into
// the one in which it would be made.
func Probe(folder string) error {
	there := filepath.Clean(folder)
	for {
		info, err := os.Stat(there)
		if err == nil && !info.IsDir() {
			return WriteFault(folder, "", fmt.Errorf("%s is no folder", there))
		}
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrNotExist) || filepath.Dir(there) == there {
			return WriteFault(folder, "", err)
		}
		there = filepath.Dir(there)
	}
	f, err := os.CreateTemp(there, ".halfpour-probe.*"+tempEnd)
	if err != nil {
		return WriteFault(folder, "", err)
	}
	if err := errors.Join(f.Close(), os.Remove(f.Name())); err != nil {
		return WriteFault(folder, "", err)
	}
	return nil
}

// Overwrites returns the first of the places that is one of the inputs by
// whatever name, "" for none. A set's own journal and lock count as places.
func Overwrites(inputs, places []string) string {
	var read []os.FileInfo
	for _, path := range inputs {
		if info, err := os.Stat(path); err == nil {
			read = append(read, info)
		}
	}
	seen := map[string]bool{}
	for _, place := range places {
		for _, path := range []string{place, filepath.Join(filepath.Dir(place), JournalName), filepath.Join(filepath.Dir(place), folderLock)} {
			info, err := os.Stat(path)
			if seen[path] || err != nil {
				continue
			}
			seen[path] = true
			if slices.ContainsFunc(read, func(in os.FileInfo) bool { return os.SameFile(in, info) }) {
				return path
			}
		}
	}
	return ""
}
