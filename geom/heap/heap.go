// Package heap is container/heap for items of one type.
package heap

import "container/heap"

// Item is what a heap can hold: it comes out before the others or not.
type Item[T any] interface{ Before(T) bool }

// Heap gives the first of its items at any time. The zero Heap is empty. With
// the same items put in in the same order, equal ones come out in the same.
type Heap[T Item[T]] struct{ items items[T] }

// Len returns how many items there are.
func (h *Heap[T]) Len() int { return len(h.items) }

// First returns the item that Pop will return, of a heap that is not empty.
func (h *Heap[T]) First() T { return h.items[0] }

// Items returns all items, the first in front and the others in no order.
func (h *Heap[T]) Items() []T { return h.items }

// Push adds an item.
func (h *Heap[T]) Push(x T) {
	h.items = append(h.items, x)
	heap.Fix(&h.items, len(h.items)-1) // unlike heap.Push, puts x in no interface
}

// Pop takes out the first item, of a heap that is not empty.
func (h *Heap[T]) Pop() T {
	first, last := h.items[0], len(h.items)-1
	h.items[0] = h.items[last]
	if h.items = h.items[:last]; last > 0 {
		heap.Fix(&h.items, 0)
	}
	return first
}

type items[T Item[T]] []T

func (s items[T]) Len() int           { return len(s) }
func (s items[T]) Less(i, j int) bool { return s[i].Before(s[j]) }
func (s items[T]) Swap(i, j int)      { s[i], s[j] = s[j], s[i] }
func (items[T]) Push(any)             {} // Push and Pop of container/heap are not used
func (items[T]) Pop() any             { return nil }
