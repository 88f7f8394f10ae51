package unionfind

import (
	"math/rand/v2"
	"testing"
)

// Roots are those that labels found the slow way have as their least member.
func TestSetsAgreeWithLabels(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	const n = 50
	s := New(n)
	var label [n]int
	for i := range label {
		label[i] = i
	}
	for range 2 * n {
		i, j := r.IntN(n), r.IntN(n)
		s.Join(int32(i), int32(j))
		low, high := min(label[i], label[j]), max(label[i], label[j])
		for k := range label {
			if label[k] == high {
				label[k] = low
			}
		}
		for k := range label {
			if got := s.Root(int32(k)); int(got) != label[k] {
				t.Fatalf("the root of %d is %d, want %d", k, got, label[k])
			}
		}
	}
}
