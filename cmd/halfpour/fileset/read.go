package fileset

import (
	"io"
	"os"
)

// ReadUpTo reads a file, which may be a pipe, up to a number of bytes: more is
// for the reader of the job to refuse.
func ReadUpTo(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}
