package pourplan

import "math"

// AccountSummary is what an account comes to for one mold, held against its
// plan. It is what "log --json" prints under "account"; units as in Plan.
type AccountSummary struct {
	Mold     int           `json:"mold"`                  // its number
	Castings int           `json:"castings"`              // lines of the account that are about it
	Life     LifeUsed      `json:"life"`                  // used, and left
	Yield    *YieldSeen    `json:"yield,omitempty"`       // left out as long as no head is counted
	Weighed  []HeadWeighed `json:"weighed"`               // kind by kind, in the order of the account
	Fill     *WeighedFill  `json:"fill_factor,omitempty"` // of all molds cast in the plan's metal; left out with fewer than two weights
	Cost     *CostSoFar    `json:"cost,omitempty"`        // left out when the plan has none, or no head is good yet
	Molds    []MoldTotal   `json:"molds"`                 // every mold of the account, by number
}

// LifeUsed is the shots of a mold.
type LifeUsed struct {
	Shots         int     `json:"shots"`           // poured so far
	LowShots      int     `json:"life_low_shots"`  // that it lasts, at least
	HighShots     int     `json:"life_high_shots"` // and at most
	Usual         bool    `json:"life_is_usual"`   // common practice, since the job does not say
	LeftLowShots  int     `json:"left_low_shots"`  // of the shorter life; 0 when it is over
	LeftHighShots int     `json:"left_high_shots"` // of the longer one
	PerShotHeads  float64 `json:"per_shot_heads"`  // good ones, as seen so far or else as planned
	LeftLowHeads  int     `json:"left_low_heads"`  // good ones to come, whole ones
	LeftHighHeads int     `json:"left_high_heads"` // of the longer life
}

// YieldSeen is good heads out of those counted.
type YieldSeen struct {
	Good        int     `json:"good"`         // heads
	Bad         int     `json:"bad"`          // heads
	Percent     float64 `json:"seen_percent"` // good out of those counted
	LowPercent  float64 `json:"low_percent"`  // ends of Wilson's 95 % interval
	HighPercent float64 `json:"high_percent"` // and the upper end
}

// HeadWeighed is the weights of one kind of head.
type HeadWeighed struct {
	Head       string  `json:"head"`        // cavity's name; "" when all are alike
	Weights    int     `json:"weights"`     // how many
	MeanG      float64 `json:"mean_g"`      // of them
	SpreadG    float64 `json:"spread_g"`    // standard deviation of single heads; 0 of one
	ErrorG     float64 `json:"error_g"`     // standard error of the mean
	LowestG    float64 `json:"lowest_g"`    // single head
	HighestG   float64 `json:"highest_g"`   // single head
	ExpectedG  Range   `json:"expected_g"`  // when they were cast last
	OffPercent float64 `json:"off_percent"` // of the mean from what was expected
	Within     int     `json:"within"`      // weights in the expected range
}

// MoldTotal is what came out of one mold.
type MoldTotal struct {
	Mold  int `json:"mold"`  // its number
	Shots int `json:"shots"` // poured
	Good  int `json:"good"`  // heads
	Bad   int `json:"bad"`   // heads
}

// WithLife returns the plan with the mold's life as the job has it now: what a
// person learns of it while casting needs no new frames.
func (p *Plan) WithLife(j *Job) *Plan {
	out := *p
	out.Casting.LifeLow, out.Casting.LifeHigh, out.Casting.LifeUsual = j.Casting.life()
	return &out
}

// LastMold is the number of the mold cast in last, 1 in an empty account.
func (a *Account) LastMold() int {
	if n := len(a.Castings); n > 0 {
		return a.Castings[n-1].Mold
	}
	return 1
}

// Summarise works out the account of one mold against its plan.
func (a *Account) Summarise(p *Plan, mold int) *AccountSummary {
	s := &AccountSummary{Mold: mold, Weighed: []HeadWeighed{}, Molds: a.totals()}
	kinds := map[string]*headWeights{}
	var order []*headWeights
	for _, c := range a.Castings {
		if c.Mold != mold {
			continue
		}
		s.Castings++
		if len(c.Weights) == 0 {
			continue
		}
		if kinds[c.Head] == nil {
			kinds[c.Head] = &headWeights{head: c.Head}
			order = append(order, kinds[c.Head])
		}
		kinds[c.Head].add(c.Weighing)
	}
	for _, k := range order {
		s.Weighed = append(s.Weighed, k.sum())
	}
	total := MoldTotal{Mold: mold}
	for _, m := range s.Molds {
		if m.Mold == mold {
			total = m
		}
	}
	s.Life, s.Yield = lifeUsed(p, total), yieldSeen(total)
	if f, ok := a.FillFactor(p.Metal.Name, p.Metal.DensityGCM3.Best*p.Metal.accountFactor()); ok {
		s.Fill = &f
	}
	s.Cost = costSoFar(p, total)
	return s
}

// totals adds up each mold, by number.
func (a *Account) totals() []MoldTotal {
	list := []MoldTotal{}
	for _, c := range a.Castings {
		i := 0
		for i < len(list) && list[i].Mold < c.Mold {
			i++
		}
		if i == len(list) || list[i].Mold != c.Mold {
			list = append(list[:i], append([]MoldTotal{{Mold: c.Mold}}, list[i:]...)...)
		}
		m := &list[i]
		m.Shots, m.Good, m.Bad = m.Shots+c.Shots, m.Good+c.Good, m.Bad+c.Bad
	}
	return list
}

func lifeUsed(p *Plan, m MoldTotal) LifeUsed {
	c := p.Casting
	l := LifeUsed{Shots: m.Shots, LowShots: c.LifeLow, HighShots: c.LifeHigh, Usual: c.LifeUsual,
		LeftLowShots: max(0, c.LifeLow-m.Shots), LeftHighShots: max(0, c.LifeHigh-m.Shots)}
	l.PerShotHeads = float64(len(p.Heads)) * p.Metal.YieldPercent / 100
	if m.Shots > 0 && m.Good+m.Bad > 0 {
		l.PerShotHeads = float64(m.Good) / float64(m.Shots)
	}
	whole := func(shots int) int { return int(math.Floor(float64(shots)*l.PerShotHeads + 1e-9)) }
	l.LeftLowHeads, l.LeftHighHeads = whole(l.LeftLowShots), whole(l.LeftHighShots)
	return l
}

func yieldSeen(m MoldTotal) *YieldSeen {
	all := m.Good + m.Bad
	if all == 0 {
		return nil
	}
	low, high := Wilson(m.Good, all)
	return &YieldSeen{Good: m.Good, Bad: m.Bad, Percent: 100 * float64(m.Good) / float64(all), LowPercent: 100 * low, HighPercent: 100 * high}
}

// headWeights gathers the weights of one kind of head.
type headWeights struct {
	head    string
	weights []float64
	within  int
	last    Range
}

func (h *headWeights) add(w Weighing) {
	for _, g := range w.Weights {
		if w.Expected.Low <= g && g <= w.Expected.High {
			h.within++
		}
	}
	h.weights, h.last = append(h.weights, w.Weights...), w.Expected
}

func (h *headWeights) sum() HeadWeighed {
	mean, spread := meanAndScatter(h.weights)
	out := HeadWeighed{Head: h.head, Weights: len(h.weights), MeanG: mean, SpreadG: spread, LowestG: h.weights[0], HighestG: h.weights[0],
		ErrorG: spread / math.Sqrt(float64(len(h.weights))), ExpectedG: h.last, OffPercent: 100 * (mean/h.last.Best - 1), Within: h.within}
	for _, g := range h.weights {
		out.LowestG, out.HighestG = math.Min(out.LowestG, g), math.Max(out.HighestG, g)
	}
	return out
}
