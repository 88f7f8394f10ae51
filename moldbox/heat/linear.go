package heat

import (
	"cmp"
	"slices"
)

// matrix is symmetric, with positive diagonal and no positive entry beside it.
type matrix struct {
	diagonal []float64
	start    []int32 // of each row's entries: of earlier rows, then
	later    []int32 // of later ones
	column   []int32
	way      []int32   // link that an entry belongs to
	value    []float64 // what the entry is below 0
	pivot    []float64 // one over that of the incomplete factors
	eased    []float64 // value times the column's pivot
	twice    []float64 // 2 less diagonal times pivot
	p, t, q  []float64
}

// newMatrix lays out the entries that links make. In a row those come last that the
// row before needs, so that it is not waited for.
func newMatrix(n int, links []link) *matrix {
	m := &matrix{start: make([]int32, n+1), later: make([]int32, n), column: make([]int32, 0, 2*len(links)), way: make([]int32, 0, 2*len(links))}
	for _, x := range []*[]float64{&m.diagonal, &m.pivot, &m.twice, &m.p, &m.t, &m.q} {
		*x = make([]float64, n)
	}
	for i := range links {
		m.start[links[i].a+1]++
		m.start[links[i].b+1]++
	}
	for i := range n {
		m.start[i+1] += m.start[i]
	}
	type entry struct{ column, way int32 }
	entries, next := make([]entry, m.start[n]), slices.Clone(m.start[:n])
	for i := range links {
		a, b := links[i].a, links[i].b
		entries[next[a]], entries[next[b]] = entry{b, int32(i)}, entry{a, int32(i)}
		next[a]++
		next[b]++
	}
	for i := range n {
		row := entries[m.start[i]:m.start[i+1]]
		slices.SortFunc(row, func(x, y entry) int { return cmp.Or(int(x.column-y.column), int(x.way-y.way)) })
		later := 0
		for later < len(row) && int(row[later].column) < i {
			later++
		}
		m.later[i] = m.start[i] + int32(later)
		slices.Reverse(row[later:])
		for _, e := range row {
			m.column, m.way = append(m.column, e.column), append(m.way, e.way)
		}
	}
	m.value, m.eased = make([]float64, len(m.column)), make([]float64, len(m.column))
	return m
}

// factor makes the incomplete factors: those of the matrix itself but for their
// diagonal (Meijerink & van der Vorst, Math. Comput. 31 (1977) 148).
func (m *matrix) factor() {
	for i, d := range m.diagonal {
		for e := m.start[i]; e < m.later[i]; e++ {
			m.eased[e] = m.value[e] * m.pivot[m.column[e]]
			d -= m.value[e] * m.eased[e]
		}
		m.pivot[i] = 1 / d
		m.twice[i] = 2 - m.diagonal[i]/d
	}
	for i, later := range m.later {
		for e := later; e < m.start[i+1]; e++ {
			m.eased[e] = m.value[e] * m.pivot[m.column[e]]
		}
	}
}

// row adds to s some entries, each times what x is in its column and its pivot.
func (m *matrix) row(s float64, from, to int32, x []float64) float64 {
	columns, eased := m.column[from:to], m.eased[from:to]
	eased = eased[:len(columns)]
	for k, c := range columns {
		s += eased[k] * x[c]
	}
	return s
}

// mostSweeps bounds the steps of one linear solution.
const mostSweeps = 200

// solve returns x with m·x near b, by conjugate gradients, until what is left
// is a share of what it was at first. b is overwritten. As the factors are the
// matrix' own but for the diagonal, m is never multiplied by (Eisenstat, SIAM J. Sci.
// Stat. Comput. 2 (1981) 1, from memory).
func (m *matrix) solve(b, x []float64, share float64) int {
	// r, t and q are here what they are there times the pivots of the factors.
	r, p, t, q := b, m.p, m.t, m.q
	rz := 0.0
	for i := range r {
		x[i], p[i] = 0, 0
		r[i] = m.row(r[i], m.start[i], m.later[i], r)
		rz += r[i] * r[i] * m.pivot[i]
	}
	want, ratio := rz*share*share, 0.0
	n := 0
	for ; n < mostSweeps && rz > want; n++ {
		for i := len(r) - 1; i >= 0; i-- {
			p[i] = r[i] + ratio*p[i]
			t[i] = m.row(p[i], m.later[i], m.start[i+1], t)
		}
		sum := 0.0
		for i := range r {
			q[i] = m.row(p[i]-m.twice[i]*t[i], m.start[i], m.later[i], q)
			sum += p[i] * (t[i] + q[i]) * m.pivot[i]
		}
		a, next := rz/sum, 0.0
		for i := range r {
			x[i] += a * t[i] * m.pivot[i]
			r[i] -= a * (t[i] + q[i])
			next += r[i] * r[i] * m.pivot[i]
		}
		ratio, rz = next/rz, next
	}
	return n
}
