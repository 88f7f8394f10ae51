// Package unionfind keeps sets that are joined two by two.
package unionfind

// Sets deals the numbers from 0 into disjoint sets. Each set has a root, its
// lowest member.
type Sets []int32

// New returns n sets of one number each.
func New(n int) Sets {
	s := make(Sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// Root returns the root of the set that i is in.
func (s Sets) Root(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// Join makes one set of those of i and j.
func (s Sets) Join(i, j int32) {
	i, j = s.Root(i), s.Root(j)
	s[max(i, j)] = min(i, j)
}
