package pourplan

import (
	"math"
	"math/rand"
	"slices"
	"testing"
)

// bruteForce tries every set of kits that is worth trying and returns the least
// price that covers the need, in whole grams and whole money.
func bruteForce(kits []Kit, need float64) float64 {
	if need <= 0 {
		return 0
	}
	if len(kits) == 0 {
		return math.Inf(1)
	}
	least := math.Inf(1)
	for n := 0; ; n++ {
		left := need - float64(n)*kits[0].Mass
		least = math.Min(least, float64(n)*kits[0].Price+bruteForce(kits[1:], left))
		if left <= 0 {
			return least
		}
	}
}

func priced(kits []Kit, counts []int) (price, mass float64) {
	for i, n := range counts {
		price, mass = price+float64(n)*kits[i].Price, mass+float64(n)*kits[i].Mass
	}
	return price, mass
}

// Greedy by price per gram buys two of the large; the exact answer mixes.
func TestCheapestKitsExamples(t *testing.T) {
	kits := []Kit{{"small", 250, 15}, {"middle", 1000, 45}, {"large", 5000, 190}}
	for _, c := range []struct {
		need float64
		want []int
	}{
		{0, []int{0, 0, 0}},
		{1, []int{1, 0, 0}},
		{250, []int{1, 0, 0}},
		{250.05, []int{2, 0, 0}}, // 30 for two small, 45 for a middle
		{600, []int{0, 1, 0}},    // 45 either way: the larger set
		{1240, []int{1, 1, 0}},
		{4000, []int{0, 4, 0}},
		{4100, []int{0, 0, 1}}, // 190 against 195
		{6200, []int{1, 1, 1}},
	} {
		got, err := CheapestKits(kits, c.need)
		if err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%g g: got %v, %v, want %v", c.need, got, err, c.want)
		}
	}
}

func TestCheapestKitsIsExact(t *testing.T) {
	const seed = 11
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewSource(seed))
	for range 400 {
		kits := make([]Kit, 1+rng.Intn(4))
		for i := range kits {
			kits[i] = Kit{"kit", float64(50 + 50*rng.Intn(30)), float64(1 + rng.Intn(60))}
		}
		need := float64(rng.Intn(3000))
		counts, err := CheapestKits(kits, need)
		if err != nil {
			t.Fatal(err)
		}
		price, mass := priced(kits, counts)
		if want := bruteForce(kits, need); price != want {
			t.Fatalf("%v for %g g: got %v at %g, the least is %g", kits, need, counts, price, want)
		}
		if mass < need {
			t.Fatalf("%v for %g g: %v holds only %g g", kits, need, counts, mass)
		}
	}
}

func TestCheapestKitsRefuses(t *testing.T) {
	good := []Kit{{"a", 100, 1}}
	for name, f := range map[string]func() ([]int, error){
		"no kits":           func() ([]int, error) { return CheapestKits(nil, 10) },
		"a free kit":        func() ([]int, error) { return CheapestKits([]Kit{{"free", 100, 0}}, 10) },
		"an empty kit":      func() ([]int, error) { return CheapestKits([]Kit{{"empty", 0, 5}}, 10) },
		"no number":         func() ([]int, error) { return CheapestKits([]Kit{{"nan", math.NaN(), 5}}, 10) },
		"a need of tons":    func() ([]int, error) { return CheapestKits(good, 1e7) },
		"a need of no size": func() ([]int, error) { return CheapestKits(good, math.NaN()) },
	} {
		if got, err := f(); err == nil {
			t.Errorf("%s: got %v", name, got)
		}
	}
}
