package pourplan

import (
	"math"
	"testing"
)

func TestWilson(t *testing.T) {
	for _, c := range []struct {
		good, all int
		low, high float64
		within    float64
		source    string
	}{
		// (0.95 + z²/40 ± z·sqrt(0.95·0.05/20 + z²/1600)) / (1 + z²/20) with z = 1.96.
		{19, 20, 0.76387, 0.99112, 1e-5, "by hand"},
		{81, 263, 0.2553, 0.3662, 5e-5, "Newcombe, Stat. Med. 17 (1998) 857, table I, from memory"},
		{15, 148, 0.0624, 0.1605, 5e-5, "the same"},
		{0, 20, 0, 0.1611, 5e-5, "the same"},
		{1, 29, 0.0061, 0.1718, 5e-5, "the same"},
		{1, 2, 0.09452865, 0.90547135, 1e-5, "test cases for z = 1.96, source not known: Wilson's formula gives them"},
		{1, 11, 0.01623175, 0.37736463, 1e-5, "the same"},
		{10, 11, 0.62263537, 0.98376825, 1e-5, "the same"},
		{90, 100, 0.82563270, 0.94477146, 1e-5, "the same"},
		{100, 100, 0.96300519, 1, 1e-5, "the same"},
		{0, 0, 0, 1, 0, "nothing is known"},
	} {
		low, high := Wilson(c.good, c.all)
		if math.Abs(low-c.low) > c.within || math.Abs(high-c.high) > c.within {
			t.Errorf("%d of %d: got %.6f to %.6f, want %.6f to %.6f (%s)", c.good, c.all, low, high, c.low, c.high, c.source)
		}
	}
}

// The interval holds the share seen, lies within 0 and 1, turns round with
// good and bad, and narrows with their number.
func TestWilsonProperties(t *testing.T) {
	for all := 1; all <= 60; all++ {
		for good := 0; good <= all; good++ {
			low, high := Wilson(good, all)
			p := float64(good) / float64(all)
			if !(0 <= low && low <= p+1e-12 && p-1e-12 <= high && high <= 1) {
				t.Fatalf("%d of %d: %g to %g", good, all, low, high)
			}
			if l, h := Wilson(all-good, all); math.Abs(1-h-low) > 1e-12 || math.Abs(1-l-high) > 1e-12 {
				t.Fatalf("%d of %d: %g to %g, the bad ones %g to %g", good, all, low, high, l, h)
			}
			if l, h := Wilson(4*good, 4*all); h-l >= high-low {
				t.Fatalf("%d of %d is no wider than four times as many", good, all)
			}
		}
	}
}

// Student's table of 97.5 % points (Abramowitz & Stegun table 26.10).
func TestStudent(t *testing.T) {
	for degrees, want := range map[int]float64{1: 12.706, 3: 3.182, 4: 2.776, 5: 2.571, 9: 2.262, 14: 2.145, 29: 2.045, 60: 2.000, 120: 1.980} {
		if got := student(degrees); math.Abs(got-want) > 0.001*want {
			t.Errorf("%d degrees: got %.4f, want %.3f", degrees, got, want)
		}
	}
}

// The polynomials of Abramowitz & Stegun (1964), 26.7.5, in powers of x as they
// are printed there; the exact points of 4 and 10 degrees are 2.776445 and
// 2.228139 (table 26.10, with more digits by hand).
func TestStudentExpansion(t *testing.T) {
	x := 1.959963984540054
	pow := func(n float64) float64 { return math.Pow(x, n) }
	for v, exact := range map[int]float64{4: 2.776445, 10: 2.228139} {
		n := float64(v)
		want := x + (pow(3)+x)/4/n + (5*pow(5)+16*pow(3)+3*x)/96/(n*n) + (3*pow(7)+19*pow(5)+17*pow(3)-15*x)/384/(n*n*n) +
			(79*pow(9)+776*pow(7)+1482*pow(5)-1920*pow(3)-945*x)/92160/(n*n*n*n)
		near(t, "the expansion", student(v), want, 1e-12)
		near(t, "the exact point", student(v), exact, 4e-4)
	}
	for v, want := range map[int]float64{1: 12.706, 2: 4.303, 3: 3.182} {
		near(t, "the table", student(v), want, 0)
	}
}
