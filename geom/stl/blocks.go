package stl

import (
	"io"
	"runtime"
)

// blockFacets is how many facets are made ready at a time.
const blockFacets = 8192

// writeBlocks writes blocks 0 to n-1 in order. They are filled on all
// processors, a few ahead of the writing.
func writeBlocks(w io.Writer, n int, fill func(buf []byte, block int) []byte) error {
	workers := min(runtime.GOMAXPROCS(0), n)
	free := make(chan []byte, 2*workers) // bounds how far filling runs ahead
	for range cap(free) {
		free <- make([]byte, 0, blockFacets*facetSize)
	}
	type job struct {
		buf    []byte
		block  int
		filled chan []byte
	}
	jobs := make(chan job)
	order := make(chan chan []byte, cap(free))
	stop := make(chan struct{})
	defer close(stop)
	go func() {
		defer close(jobs)
		defer close(order)
		for i := range n {
			select {
			case buf := <-free:
				j := job{buf, i, make(chan []byte, 1)}
				order <- j.filled // has room: there are no more than buffers
				jobs <- j
			case <-stop:
				return
			}
		}
	}()
	for range workers {
		go func() {
			for j := range jobs {
				j.filled <- fill(j.buf, j.block)
			}
		}()
	}
	for filled := range order {
		buf := <-filled
		if _, err := w.Write(buf); err != nil {
			return err
		}
		free <- buf[:0]
	}
	return nil
}
