package pourplan

import (
	"fmt"
	"math"
)

// BuyingPlan is the rubber to buy, at the prices of the job's kits. Sums are
// in the job's currency.
type BuyingPlan struct {
	Molds               int       `json:"molds"`                   // of this kind, to buy for
	NeedG               float64   `json:"need_g"`                  // A and B to weigh for them, each half mixed on its own
	HaveG               float64   `json:"have_g"`                  // on the shelf already
	BuyG                float64   `json:"buy_g"`                   // at least: what is needed less what is there
	Kits                []KitPlan `json:"kits"`                    // the cheapest set, exactly; in the job's order, those left in the shop too
	BoughtG             float64   `json:"bought_g"`                // in these kits
	PriceMoney          float64   `json:"price_money"`             // of these kits
	LeftOverG           float64   `json:"left_over_g"`             // when all molds are poured
	LeftOverMolds       int       `json:"left_over_molds"`         // whole molds more that it would make
	ShelfLifeS          float64   `json:"shelf_life_s"`            // of closed cans; opened ones keep less
	ShelfLifeUsual      bool      `json:"shelf_life_is_usual"`     // typical, since the job does not say
	CashPerMoldMoney    float64   `json:"cash_per_mold_money"`     // price of the kits over the molds
	ProRataPerMoldMoney float64   `json:"pro_rata_per_mold_money"` // what is in one mold at the price of its weight
}

// KitPlan is how many of one kit to buy.
type KitPlan struct {
	Name       string  `json:"name"`        // the job's, or its mass
	Count      int     `json:"count"`       // to buy
	MassG      float64 `json:"mass_g"`      // of A and B in one
	PriceMoney float64 `json:"price_money"` // of one
}

// usualShelfLife is the shorter end of what trade notes give for closed cans:
// 6 months for tin-cure, 6 to 12 for platinum-cure rubber, s.
const usualShelfLife = 180 * 86400.0

// kits turns the job's kits into A and B together.
func (j *Job) kits(r Ratio) []Kit {
	var list []Kit
	for _, k := range j.Kit {
		kit := Kit{Name: k.Name, Mass: float64(k.Mass), Price: k.Price}
		label := kit.Mass
		if k.A > 0 {
			kit.Mass, label = float64(k.A)*(r.A+r.B)/r.A, float64(k.A)
		}
		if kit.Name == "" {
			kit.Name = FormatKilograms(label)
			if k.A > 0 {
				kit.Name += " of A"
			}
		}
		list = append(list, kit)
	}
	return list
}

// planBuying chooses kits for so many molds that take perMold g each; nil
// without kits. Where nothing needs to be bought, the rubber is valued at the kit with
// the lowest price for its weight.
func planBuying(job *Job, r Rubber, molds int, perMold float64) (*BuyingPlan, error) {
	kits := job.kits(r.Ratio)
	if len(kits) == 0 {
		return nil, nil
	}
	b := job.Buying
	p := &BuyingPlan{Molds: molds, NeedG: float64(molds) * perMold, HaveG: float64(b.Have),
		ShelfLifeS: usualShelfLife, ShelfLifeUsual: b.ShelfLife == nil}
	if b.ShelfLife != nil {
		p.ShelfLifeS = float64(*b.ShelfLife)
	}
	p.BuyG = math.Max(0, p.NeedG-p.HaveG)
	counts, err := CheapestKits(kits, p.BuyG)
	if err != nil {
		return nil, &keyError{"buying.molds", RuleRange, "plan fewer molds at a time", err}
	}
	perGram := math.Inf(1)
	for i, k := range kits {
		p.Kits = append(p.Kits, KitPlan{k.Name, counts[i], k.Mass, k.Price})
		p.BoughtG += float64(counts[i]) * k.Mass
		p.PriceMoney += float64(counts[i]) * k.Price
		perGram = math.Min(perGram, k.Price/k.Mass)
	}
	if p.BoughtG > 0 {
		perGram = p.PriceMoney / p.BoughtG
	}
	p.LeftOverG = math.Max(0, p.HaveG+p.BoughtG-p.NeedG)
	p.LeftOverMolds = int(p.LeftOverG/perMold + 1e-9)
	p.CashPerMoldMoney = p.PriceMoney / float64(molds)
	p.ProRataPerMoldMoney = perMold * perGram
	return p, nil
}

// FormatMoney shows a sum in the job's currency: "9.14 money".
func FormatMoney(x float64, currency string) string { return fmt.Sprintf("%.2f %s", x, currency) }

// Currency is the job's word behind sums of money.
func (p *Plan) Currency() string {
	if p.Cost != nil {
		return p.Cost.Currency
	}
	return "money"
}
