package pourplan

import (
	"errors"
	"fmt"
	"math"
)

// Kit is a size in which rubber is sold.
type Kit struct {
	Name  string
	Mass  float64 // of A and B together, g
	Price float64 // of one, above 0
}

// buyingStep is to what masses of kits are counted, g: kits down, the need up,
// so that a set never falls short. priceStep is to what prices are.
const (
	buyingStep = 0.1
	priceStep  = 0.001
	// maxNeed keeps the table of CheapestKits within about 25 MB, g.
	maxNeed = 100e3
)

// basket is what a set of kits costs and holds, in whole steps.
type basket struct{ price, mass, kits int64 }

// better prefers the cheaper set; of equally cheap ones the larger, then the
// one of fewer kits.
func (b basket) better(c basket) bool {
	switch {
	case b.price != c.price:
		return b.price < c.price
	case b.mass != c.mass:
		return b.mass > c.mass
	}
	return b.kits < c.kits
}

// CheapestKits returns how many of each kit to buy for need g of rubber at the
// least price. It is exact: the best basket for r steps of need is the best of
// buying any one kit and then the best for what r is without it (dynamic
// programming; time and memory grow with need, which may be up to 100 kg).
// Nothing is bought for no need.
func CheapestKits(kits []Kit, need float64) ([]int, error) {
	counts := make([]int, len(kits))
	if need <= 0 {
		return counts, nil
	}
	if !(need <= maxNeed) {
		return nil, fmt.Errorf("must need at most %.0f kg of rubber, got %.6g kg", maxNeed/1000, need/1000)
	}
	sizes := make([]basket, len(kits))
	for i, k := range kits {
		sizes[i] = basket{int64(math.Round(k.Price / priceStep)), int64(k.Mass/buyingStep + 1e-6), 1}
		if sizes[i].price < 1 || sizes[i].mass < 1 || !(k.Price <= maxPrice) || !(k.Mass <= 1e9) {
			return nil, fmt.Errorf("%s: want a mass and a price above 0, got %g g for %g", k.Name, k.Mass, k.Price)
		}
	}
	if len(kits) == 0 {
		return nil, errors.New("no kits to choose from")
	}
	steps := int(math.Ceil(need/buyingStep - 1e-6))
	first := firstKits(sizes, steps)
	for r := steps; r > 0; r -= int(sizes[first[r]].mass) {
		counts[first[r]]++
	}
	return counts, nil
}

// firstKits returns a kit of the best basket for each need up to steps.
func firstKits(sizes []basket, steps int) []uint8 {
	best, first := make([]basket, steps+1), make([]uint8, steps+1)
	for r := 1; r <= steps; r++ {
		for i, k := range sizes {
			rest := best[max(0, r-int(k.mass))]
			b := basket{rest.price + k.price, rest.mass + k.mass, rest.kits + 1}
			if i == 0 || b.better(best[r]) {
				best[r], first[r] = b, uint8(i)
			}
		}
	}
	return first
}
