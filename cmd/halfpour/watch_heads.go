package main

import (
	"context"
	"sync"

	"halfpour/moldbox/head"
	"halfpour/pourplan/making"
)

// keptHeads reads heads for one run after the other: a head is the same as
// before for as long as its file stays as it was.
type keptHeads struct {
	mu    sync.Mutex
	heads map[string]keptHead // by path
}

type keptHead struct {
	*head.Head
	of fileState
}

// of reads the heads of a job.
func (k *keptHeads) of(f *jobFile) making.Heads {
	return func(ctx context.Context, file string) (*head.Head, error) {
		path := f.headPath(file)
		now := fileStateOf(path)
		k.mu.Lock()
		was, known := k.heads[path]
		k.mu.Unlock()
		if known && was.of == now {
			return was.Head, nil
		}
		h, err := f.readHead(ctx, file)
		if err != nil {
			return nil, err
		}
		k.mu.Lock()
		defer k.mu.Unlock()
		if k.heads == nil {
			k.heads = map[string]keptHead{}
		}
		k.heads[path] = keptHead{h, now}
		return h, nil
	}
}
