package pourplan

import (
	"errors"
	"fmt"
)

// This file has the job's tables of shopping, clock and money. Prices are
// plain numbers in the job's own currency.

// BuyingTable is [buying]: how much rubber to buy, out of the [[kit]] tables.
type BuyingTable struct {
	Molds     int      `toml:"molds"`      // of this kind, to buy for
	Have      Gram     `toml:"have"`       // A and B together, still good, on the shelf
	ShelfLife *Seconds `toml:"shelf_life"` // of closed cans; left out: typical
}

// KitTable is one [[kit]]: a size in which the rubber is sold, A with the B
// that belongs to it. Either mass or a is given.
type KitTable struct {
	Name  string  `toml:"name"`  // left out: its mass
	Mass  Gram    `toml:"mass"`  // of A and B together
	A     Gram    `toml:"a"`     // of A alone, as some cans are labelled
	Price float64 `toml:"price"` // of the whole kit
}

// EveningTable is [evening]: the work at the bench by the clock. Figures left
// out are common practice, no source.
type EveningTable struct {
	Start      *Moment    `toml:"start"`        // when the first B meets its A
	Room       Celsius    `toml:"room"`         // temperature where the rubber cures; data sheets mean 23
	Mix        Seconds    `toml:"mix"`          // stirring a mix
	Deair      Seconds    `toml:"deair"`        // in the chamber, with rubber.vacuum
	Pour       Seconds    `toml:"pour"`         // brushing and pouring one half
	Cup        Millilitre `toml:"cup"`          // the largest cup at hand; 0: any
	PostCure   Seconds    `toml:"post_cure"`    // in the warmth, after demolding; 0: none
	PostCureAt Celsius    `toml:"post_cure_at"` // temperature of that
}

// PlasticTable is [plastic]: what the frames are printed of.
type PlasticTable struct {
	Name    string   `toml:"name"`    // one of plastics, or another with its figures
	Softens *Celsius `toml:"softens"` // left out: typical
	Density *Density `toml:"density"` // left out: typical
	Solid   Percent  `toml:"solid"`   // of the frame's volume that is plastic and not air
}

// CostTable is [cost]. A price that is left out is counted as 0, and named as
// not counted.
type CostTable struct {
	Currency string   `toml:"currency"` // a word to print behind sums
	Rubber   *float64 `toml:"rubber"`   // per kg of A and B, where no [[kit]] says it
	Metal    *float64 `toml:"metal"`    // per kg
	Hook     *float64 `toml:"hook"`     // each
	Keeper   *float64 `toml:"keeper"`   // each; one a head where the job lists none
	Plastic  *float64 `toml:"plastic"`  // per kg of printing plastic
	Other    *float64 `toml:"other"`    // for each mold: cups, brushes, release
	Shop     *float64 `toml:"shop"`     // price of one such head in a shop
}

const maxKits = 20

// checkBench checks the tables of this file.
func (j *Job) checkBench(l *limits) {
	j.checkBuying(l)
	j.checkEvening(l)
	l.within("plastic.solid", float64(j.Plastic.Solid), 1, 100, "%", "100 for a tray printed without hollows")
	if _, err := j.Plastic.resolve(); err != nil {
		l.errs = append(l.errs, flatten(err)...)
	}
	c := j.Cost
	if c.Plastic != nil && j.Plastic.Name == "" {
		l.errs = append(l.errs, &keyError{"cost.plastic", RuleMissing, "write name = \"PLA\" under [plastic]",
			errors.New("needs to know which plastic it is the price of")})
	}
	for _, p := range []struct {
		key   string
		price *float64
	}{{"rubber", c.Rubber}, {"metal", c.Metal}, {"hook", c.Hook}, {"keeper", c.Keeper}, {"plastic", c.Plastic}, {"other", c.Other}, {"shop", c.Shop}} {
		if p.price != nil {
			l.within("cost."+p.key, *p.price, 0, maxPrice, "", "")
		}
	}
	if c.Rubber != nil && len(j.Kit) > 0 {
		l.errs = append(l.errs, &keyError{"cost.rubber", RuleConflict, "take it out: the kits' prices are counted",
			errors.New("does not go with [[kit]]")})
	}
	if n := len([]rune(c.Currency)); n < 1 || n > 12 {
		l.within("cost.currency", float64(n), 1, 12, "letters", "")
	}
}

// maxPrice is far above any sum that this is about, and far below where sums
// lose their thousandths.
const maxPrice = 1e9

func (j *Job) checkBuying(l *limits) {
	b := j.Buying
	l.within("buying.molds", float64(b.Molds), 1, 1000, "", "how many molds of this kind to buy rubber for")
	l.within("buying.have", float64(b.Have), 0, 1e6, "g", "")
	l.within("kit", float64(len(j.Kit)), 0, maxKits, "kits", "")
	for i, k := range j.Kit {
		at := func(key string) string { return fmt.Sprintf("kit[%d].%s", i, key) }
		switch {
		case k.Mass > 0 && k.A > 0:
			l.errs = append(l.errs, &keyError{at("a"), RuleConflict, "take one of them out", errors.New("does not go with mass: one is of A alone, the other of A and B")})
		case k.Mass == 0 && k.A == 0:
			l.errs = append(l.errs, &keyError{fmt.Sprintf("kit[%d]", i), RuleMissing, "write mass = \"1 kg\" of A and B together, or a = \"1 kg\" of A alone",
				errors.New("must say how much is in it")})
		case k.Mass > 0:
			l.within(at("mass"), float64(k.Mass), 10, 1e6, "g", "")
		default:
			l.within(at("a"), float64(k.A), 10, 1e6, "g", "")
		}
		l.within(at("price"), k.Price, 0.001, maxPrice, "", "write price = 45; rubber that you have already goes into buying.have")
	}
}

func (j *Job) checkEvening(l *limits) {
	e := j.Evening
	const day = 86400.0
	l.within("evening.room", float64(e.Room), 5, 40, "°C", "rubber is not made to cure colder or hotter")
	l.within("evening.mix", float64(e.Mix), 0, day, "s", "")
	l.within("evening.deair", float64(e.Deair), 0, day, "s", "")
	l.within("evening.pour", float64(e.Pour), 0, day, "s", "")
	l.within("evening.post_cure", float64(e.PostCure), 0, 30*day, "s", "")
	if e.PostCure > 0 {
		l.within("evening.post_cure_at", float64(e.PostCureAt), float64(e.Room), 250, "°C", "the data sheet says how warm")
	}
}
