package fileset

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
)

// What is not read: a device or a pipe may have no end, and one that nobody
// writes to is not even opened.
var (
	ErrFolder     = errors.New("is a folder, not a file")
	ErrNotRegular = errors.New("is no regular file")
	ErrTooLarge   = errors.New("is too large")
)

// ReadFile reads a regular file of so many bytes at most, which it looks at
// before it reads any. It returns as soon as ctx ends, even while a disk does
// not answer. Errors are ErrFolder, ErrNotRegular, ErrTooLarge, ctx's, and the
// system's.
func ReadFile(ctx context.Context, path string, most int64) ([]byte, error) {
	return inBackground(ctx, func() ([]byte, error) {
		f, err := openRegular(path, os.O_RDONLY)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		return readOpen(ctx, f, most)
	})
}

// ReadAll reads what has no name, such as standard input, up to so many bytes.
// It returns as soon as ctx ends; a read that is on then goes on behind it.
func ReadAll(ctx context.Context, r io.Reader, most int64) ([]byte, error) {
	return inBackground(ctx, func() ([]byte, error) { return readUpTo(ctx, r, 0, most) })
}

// ReadOpen reads a file that OpenLocked has opened, as ReadFile does.
func ReadOpen(ctx context.Context, f *os.File, most int64) ([]byte, error) {
	return inBackground(ctx, func() ([]byte, error) { return readOpen(ctx, f, most) })
}

func readOpen(ctx context.Context, f *os.File, most int64) ([]byte, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	return readUpTo(ctx, f, info.Size(), most)
}

// readUpTo reads what should have so many bytes, and has at most most.
func readUpTo(ctx context.Context, r io.Reader, size, most int64) ([]byte, error) {
	var data bytes.Buffer
	if size <= most {
		data.Grow(int(size) + bytes.MinRead)
		if _, err := data.ReadFrom(io.LimitReader(&interruptibleReader{ctx, r}, most+1)); err != nil {
			return nil, err
		}
	}
	if max(size, int64(data.Len())) > most {
		return nil, fmt.Errorf("%w: more than %d bytes", ErrTooLarge, most)
	}
	return data.Bytes(), nil
}

// interruptibleReader stops reading when ctx ends.
type interruptibleReader struct {
	ctx context.Context
	r   io.Reader
}

func (i *interruptibleReader) Read(p []byte) (int, error) {
	if err := i.ctx.Err(); err != nil {
		return 0, err
	}
	return i.r.Read(p[:min(len(p), 1<<20)])
}

// openRegular opens a regular file. Nothing else is opened: to open a pipe waits
// for its other end, and to open a device may do something.
func openRegular(path string, flags int) (*os.File, error) {
	info, err := os.Stat(path)
	if err == nil {
		err = regular(info)
	}
	if err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path, flags|openAtOnce, 0)
	if err != nil {
		return nil, err
	}
	if info, err = f.Stat(); err == nil { // it may be another by now
		err = regular(info)
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

func regular(info os.FileInfo) error {
	switch {
	case info.IsDir():
		return ErrFolder
	case !info.Mode().IsRegular():
		return ErrNotRegular
	}
	return nil
}

// inBackground does what the system may keep waiting.
func inBackground[T any](ctx context.Context, do func() (T, error)) (T, error) {
	type result struct {
		value T
		err   error
	}
	done := make(chan result, 1)
	go func() {
		value, err := do()
		done <- result{value, err}
	}()
	select {
	case r := <-done:
		return r.value, r.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
