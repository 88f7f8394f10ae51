package heat

import (
	"context"

	"halfpour/geom/parallel"
)

// chunks is into how many runs of rows the work is cut. It is the same for any
// number of workers, and so are all sums, which go run by run.
const chunks = 8

// team works on the runs of rows of one matrix.
type team struct {
	workers int
	bounds  [chunks + 1]int32
	sums    [chunks]float64
}

// fewRows are worked on faster by one than by several that wait for each other.
const fewRows = 20000

func newTeam(n, workers int) *team {
	t := &team{workers: workers}
	if n < fewRows {
		t.workers = 1
	}
	for i := range t.bounds {
		t.bounds[i] = int32(n * i / chunks)
	}
	return t
}

// each calls work for every run of rows, lo to hi, and returns the sum of what it
// returns.
func (t *team) each(work func(lo, hi int32) float64) float64 {
	job := func(i int) { t.sums[i] = work(t.bounds[i], t.bounds[i+1]) }
	if t.workers == 1 {
		for i := range chunks {
			job(i)
		}
	} else {
		_ = parallel.For(context.Background(), chunks, t.workers, job) // no end of that context
	}
	total := 0.0
	for _, x := range t.sums {
		total += x
	}
	return total
}

// matrix is symmetric, with positive diagonal and no positive entry beside it.
type matrix struct {
	*team
	diagonal []float64
	start    []int32 // of each row's entries: of earlier rows of its run, then
	later    []int32 // of later rows of its run, then
	beyond   []int32 // of other runs
	column   []int32
	way      []int32   // link that an entry belongs to
	value    []float64 // what the entry is below 0
	pivot    []float64 // one over that of the incomplete factors
	z, p, q  []float64
}

// newMatrix lays out the entries that links make.
func newMatrix(n int, links []link, workers int) *matrix {
	m := &matrix{team: newTeam(n, workers), start: make([]int32, n+1), later: make([]int32, n), beyond: make([]int32, n)}
	for _, x := range []*[]float64{&m.diagonal, &m.pivot, &m.z, &m.p, &m.q} {
		*x = make([]float64, n)
	}
	run := make([]int32, n)
	for i := range chunks {
		for j := m.bounds[i]; j < m.bounds[i+1]; j++ {
			run[j] = int32(i)
		}
	}
	for i := range links {
		m.start[links[i].a+1]++
		m.start[links[i].b+1]++
	}
	for i := range n {
		m.start[i+1] += m.start[i]
	}
	entries := m.start[n]
	m.column, m.way, m.value = make([]int32, entries), make([]int32, entries), make([]float64, entries)
	next := append([]int32(nil), m.start[:n]...)
	for kind := range 3 {
		for i := range links {
			for _, x := range [2][2]int32{{links[i].a, links[i].b}, {links[i].b, links[i].a}} {
				row, column := x[0], x[1]
				is := 2
				if run[row] == run[column] {
					is = 0
					if column > row {
						is = 1
					}
				}
				if is == kind {
					m.column[next[row]], m.way[next[row]] = column, int32(i)
					next[row]++
				}
			}
		}
		switch kind {
		case 0:
			copy(m.later, next)
		case 1:
			copy(m.beyond, next)
		}
	}
	return m
}

// factor makes the incomplete factors of each run of rows: those of the matrix
// itself but for their diagonal (Meijerink & van der Vorst, Math. Comput. 31
// (1977) 148).
func (m *matrix) factor() {
	m.each(func(lo, hi int32) float64 {
		for i := lo; i < hi; i++ {
			d := m.diagonal[i]
			for e := m.start[i]; e < m.later[i]; e++ {
				v := m.value[e]
				d -= v * v * m.pivot[m.column[e]]
			}
			m.pivot[i] = 1 / d
		}
		return 0
	})
}

// precondition solves with the factors of a run of rows: z from r. It returns r·z.
func (m *matrix) precondition(r, z []float64, lo, hi int32) float64 {
	for i := lo; i < hi; i++ {
		z[i] = (r[i] + m.row(m.start[i], m.later[i], z)) * m.pivot[i]
	}
	sum := 0.0
	for i := hi - 1; i >= lo; i-- {
		z[i] += m.row(m.later[i], m.beyond[i], z) * m.pivot[i]
		sum += z[i] * r[i]
	}
	return sum
}

// row is the sum of some entries, each times what x is in its column.
func (m *matrix) row(from, to int32, x []float64) (s float64) {
	columns, values := m.column[from:to], m.value[from:to]
	values = values[:len(columns)]
	for k, c := range columns {
		s += values[k] * x[c]
	}
	return s
}

// mostSweeps bounds the steps of one linear solution.
const mostSweeps = 200

// solve returns x with m·x near b, by conjugate gradients, until what is left
// is a share of what it was at first. b is overwritten.
func (m *matrix) solve(b, x []float64, share float64) int {
	r := b
	rz := m.each(func(lo, hi int32) float64 {
		clear(x[lo:hi])
		clear(m.p[lo:hi])
		clear(m.q[lo:hi])
		return m.precondition(r, m.z, lo, hi)
	})
	want, ratio := rz*share*share, 0.0
	n := 0
	for ; n < mostSweeps && rz > want; n++ {
		// q is m·p: p goes on to z + ratio·p, and so does q.
		a := rz / m.each(func(lo, hi int32) float64 {
			sum := 0.0
			for i := lo; i < hi; i++ {
				m.p[i] = m.z[i] + ratio*m.p[i]
				m.q[i] = m.diagonal[i]*m.z[i] - m.row(m.start[i], m.start[i+1], m.z) + ratio*m.q[i]
				sum += m.p[i] * m.q[i]
			}
			return sum
		})
		next := m.each(func(lo, hi int32) float64 {
			for i := lo; i < hi; i++ {
				x[i] += a * m.p[i]
				r[i] -= a * m.q[i]
			}
			return m.precondition(r, m.z, lo, hi)
		})
		ratio, rz = next/rz, next
	}
	return n
}
