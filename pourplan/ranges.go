package pourplan

import "fmt"

// Span is what a figure may be: its best value and the ends of its range.
type Span struct{ Lo, Best, Hi float64 }

// exactly is the span of a figure that somebody stated without a range.
func exactly(x float64) Span { return Span{x, x, x} }

// PercentRange is a range such as ["0.2 %", "1 %"].
type PercentRange [2]Percent

// UnmarshalTOML reads a list of two percentages, the lower one first.
func (r *PercentRange) UnmarshalTOML(v any) error { return readRange(percentDim, v, (*[2]Percent)(r)) }

// DensityRange is a range such as ["10.9 g/cm3", "11.1 g/cm3"].
type DensityRange [2]Density

// UnmarshalTOML reads a list of two densities, the lower one first.
func (r *DensityRange) UnmarshalTOML(v any) error { return readRange(densityDim, v, (*[2]Density)(r)) }

// FactorRange is a range of a plain factor such as [0.96, 1].
type FactorRange [2]float64

// UnmarshalTOML reads a list of two plain numbers, the lower one first.
func (r *FactorRange) UnmarshalTOML(v any) error { return readRange(factorDim, v, (*[2]float64)(r)) }

// ExpansionRange is a range such as [200, 340].
type ExpansionRange [2]Expansion

// UnmarshalTOML reads a list of two expansions, the lower one first.
func (r *ExpansionRange) UnmarshalTOML(v any) error {
	return readRange(expansionDim, v, (*[2]Expansion)(r))
}

// ShotRange is a range of whole numbers such as [20, 25].
type ShotRange [2]int

// usualLife is the shots that a mold of soft rubber lasts in hot metal when
// nothing better is known: common practice, no source.
func usualLife() ShotRange { return ShotRange{20, 25} }

// UnmarshalTOML reads a list of two numbers from 1 to maxShots, the lower one
// first.
func (r *ShotRange) UnmarshalTOML(v any) error {
	const want = "want a list of the least and the most shots such as [20, 25]"
	xs, ok := v.([]any)
	if !ok || len(xs) != 2 {
		return fmt.Errorf("%s, got %s", want, counted(v))
	}
	for i, x := range xs {
		n, whole := x.(int64)
		if !whole || n < 1 || n > maxShots {
			return fmt.Errorf("%s, each a whole number from 1 to %d, got %s", want, maxShots, quoted(x))
		}
		r[i] = int(n)
	}
	if r[0] > r[1] {
		return fmt.Errorf("%s, got %d before %d", want, r[0], r[1])
	}
	return nil
}

// maxShots is more than any mold lasts, and than anyone casts in a day.
const maxShots = 100000

func readRange[Q ~float64](d dimension, v any, dst *[2]Q) error {
	xs, ok := v.([]any)
	if !ok || len(xs) != 2 {
		return fmt.Errorf("want a list of the lowest and the highest value, each %s, got %s", d.want, counted(v))
	}
	for i, x := range xs {
		y, err := d.read(x)
		if err != nil {
			return err
		}
		dst[i] = Q(y)
	}
	if dst[0] > dst[1] {
		return fmt.Errorf("want the lowest value before the highest, got %s before %s", quoted(xs[0]), quoted(xs[1]))
	}
	return nil
}
