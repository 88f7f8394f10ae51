package geom

// Interval is the closed range [Lo, Hi].
type Interval struct{ Lo, Hi float64 }

// Neg returns the range of -x.
func (i Interval) Neg() Interval { return Interval{-i.Hi, -i.Lo} }

// Add returns the range of x + d.
func (i Interval) Add(d float64) Interval { return Interval{i.Lo + d, i.Hi + d} }

// Min returns the range of min(x, y).
func (i Interval) Min(j Interval) Interval {
	return Interval{min(i.Lo, j.Lo), min(i.Hi, j.Hi)}
}

// Max returns the range of max(x, y).
func (i Interval) Max(j Interval) Interval {
	return Interval{max(i.Lo, j.Lo), max(i.Hi, j.Hi)}
}

// Intersect returns what both ranges hold: two true statements about one value.
func (i Interval) Intersect(j Interval) Interval {
	return Interval{max(i.Lo, j.Lo), min(i.Hi, j.Hi)}
}

// Contains reports whether v is in the range.
func (i Interval) Contains(v float64) bool { return v >= i.Lo && v <= i.Hi }
