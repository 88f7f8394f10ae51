package geom

import "math"

// Vec is a point or a direction, in mm. The zero value is the origin.
type Vec struct{ X, Y, Z float64 }

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Mul returns a scaled by k.
func (a Vec) Mul(k float64) Vec { return Vec{a.X * k, a.Y * k, a.Z * k} }

// Neg returns -a.
func (a Vec) Neg() Vec { return Vec{-a.X, -a.Y, -a.Z} }

// Dot returns the scalar product.
func (a Vec) Dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross returns the right-handed vector product.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Norm returns the length.
func (a Vec) Norm() float64 { return math.Sqrt(a.Dot(a)) }

// Dist returns the distance between two points.
func (a Vec) Dist(b Vec) float64 { return a.Sub(b).Norm() }

// Unit returns a scaled to length 1; the zero vector comes back as it is.
func (a Vec) Unit() Vec {
	n := a.Norm()
	if n == 0 {
		return a
	}
	return Vec{a.X / n, a.Y / n, a.Z / n} // not times 1/n: along an axis it is exact
}

// Lerp returns the point at t on the way from a (t = 0) to b (t = 1).
func (a Vec) Lerp(b Vec, t float64) Vec { return a.Add(b.Sub(a).Mul(t)) }

// Min returns the component-wise least.
func (a Vec) Min(b Vec) Vec {
	return Vec{min(a.X, b.X), min(a.Y, b.Y), min(a.Z, b.Z)}
}

// Max returns the component-wise greatest.
func (a Vec) Max(b Vec) Vec {
	return Vec{max(a.X, b.X), max(a.Y, b.Y), max(a.Z, b.Z)}
}

// Abs returns the component-wise absolute value.
func (a Vec) Abs() Vec { return Vec{math.Abs(a.X), math.Abs(a.Y), math.Abs(a.Z)} }

// IsFinite reports whether no component is NaN or infinite.
func (a Vec) IsFinite() bool {
	s := a.X + a.Y + a.Z
	return !math.IsNaN(s-s) && !math.IsInf(a.X, 0) && !math.IsInf(a.Y, 0) && !math.IsInf(a.Z, 0)
}

// along returns the component along axis 0, 1 or 2.
func (a Vec) along(axis int) float64 {
	switch axis {
	case 0:
		return a.X
	case 1:
		return a.Y
	}
	return a.Z
}

func (a *Vec) setAlong(axis int, x float64) {
	switch axis {
	case 0:
		a.X = x
	case 1:
		a.Y = x
	default:
		a.Z = x
	}
}
