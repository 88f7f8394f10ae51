package heat

// matrix is symmetric, with positive diagonal and no positive entry beside it.
type matrix struct {
	diagonal   []float64
	start      []int32 // of each row's entries below the diagonal
	column     []int32
	way        []int32   // link that an entry belongs to
	value      []float64 // what the entry is below 0
	pivot      []float64 // one over that of the incomplete factors
	r, z, p, q []float64
}

// newMatrix lays out the entries that links make.
func newMatrix(n int, links []link) *matrix {
	m := &matrix{diagonal: make([]float64, n), start: make([]int32, n+1), pivot: make([]float64, n),
		r: make([]float64, n), z: make([]float64, n), p: make([]float64, n), q: make([]float64, n)}
	for i := range links {
		m.start[max(links[i].a, links[i].b)+1]++
	}
	for i := range n {
		m.start[i+1] += m.start[i]
	}
	m.column, m.way, m.value = make([]int32, len(links)), make([]int32, len(links)), make([]float64, len(links))
	next := append([]int32(nil), m.start[:n]...)
	for i := range links {
		hi, lo := max(links[i].a, links[i].b), min(links[i].a, links[i].b)
		m.column[next[hi]], m.way[next[hi]] = lo, int32(i)
		next[hi]++
	}
	return m
}

// factor makes the incomplete factors: those of the matrix itself but for their
// diagonal (Meijerink & van der Vorst, Math. Comput. 31 (1977) 148).
func (m *matrix) factor() {
	for i := range m.pivot {
		d := m.diagonal[i]
		for e := m.start[i]; e < m.start[i+1]; e++ {
			v := m.value[e]
			d -= v * v * m.pivot[m.column[e]]
		}
		m.pivot[i] = 1 / d
	}
}

// precondition solves with the factors: z from r.
func (m *matrix) precondition(r, z []float64) {
	for i := range z {
		s := r[i]
		for e := m.start[i]; e < m.start[i+1]; e++ {
			s += m.value[e] * z[m.column[e]]
		}
		z[i] = s * m.pivot[i]
	}
	for i := len(z) - 1; i >= 0; i-- {
		s := z[i]
		for e := m.start[i]; e < m.start[i+1]; e++ {
			c := m.column[e]
			z[c] += m.value[e] * s * m.pivot[c]
		}
	}
}

// times is q = m·p, and returns p·q.
func (m *matrix) times(p, q []float64) float64 {
	for i := range q {
		q[i] = m.diagonal[i] * p[i]
	}
	for i := range q {
		s, v := 0.0, p[i]
		for e := m.start[i]; e < m.start[i+1]; e++ {
			c := m.column[e]
			s += m.value[e] * p[c]
			q[c] -= m.value[e] * v
		}
		q[i] -= s
	}
	total := 0.0
	for i, x := range q {
		total += x * p[i]
	}
	return total
}

// mostSweeps bounds the steps of one linear solution.
const mostSweeps = 200

// solve returns x with m·x near b, by conjugate gradients, until what is left
// is a share of what it was at first. b is overwritten.
func (m *matrix) solve(b, x []float64, share float64) int {
	clear(x)
	r := b
	m.precondition(r, m.z)
	copy(m.p, m.z)
	rz := dot(r, m.z)
	want := rz * share * share
	n := 0
	for ; n < mostSweeps && rz > want; n++ {
		a := rz / m.times(m.p, m.q)
		for i := range x {
			x[i] += a * m.p[i]
			r[i] -= a * m.q[i]
		}
		m.precondition(r, m.z)
		next := dot(r, m.z)
		ratio := next / rz
		for i, z := range m.z {
			m.p[i] = z + ratio*m.p[i]
		}
		rz = next
	}
	return n
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i, x := range a {
		s += x * b[i]
	}
	return s
}
