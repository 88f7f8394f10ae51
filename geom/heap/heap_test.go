package heap

import (
	"math/rand/v2"
	"slices"
	"testing"
)

type number int

func (a number) Before(b number) bool { return a < b }

// Whatever goes in, in whatever order, comes out sorted, also while more goes
// in.
func TestHeapSorts(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 60 {
		var h Heap[number]
		var in, want []number
		for range n {
			x := number(r.IntN(20))
			h.Push(x)
			in = append(in, x)
			if r.IntN(3) == 0 {
				slices.Sort(in)
				if got := h.First(); got != in[0] {
					t.Fatalf("first is %d, want %d", got, in[0])
				}
				if got := h.Pop(); got != in[0] {
					t.Fatalf("got %d, want %d", got, in[0])
				}
				in = in[1:]
			}
		}
		slices.Sort(in)
		want = in
		for _, w := range want {
			if got := h.Pop(); got != w {
				t.Fatalf("of %v got %d, want %d", want, got, w)
			}
		}
		if h.Len() != 0 {
			t.Fatalf("%d are left over", h.Len())
		}
	}
}
