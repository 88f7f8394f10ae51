package fileset

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
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
