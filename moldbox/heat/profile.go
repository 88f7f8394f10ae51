package heat

import "math"

// profile is how deep heat has gone into the fill since the pour, while that is
// thinner than a cell: the solution of a half-space that was cold and touches
// something hot through a contact (Carslaw & Jaeger, 2nd ed., sections 2.4, 2.5
// and 2.7). It corrects the ways for heat from the skin on, and fades out by
// itself as heat goes deeper than some cells.
type profile struct {
	twice float64 // 2√(αt), mm
	hard  float64 // 1 for a skin of constant temperature, 0 for one of constant flow, between for a contact
	deep  float64 // drop of temperature at the skin over slope there, mm
}

const (
	slopeOfTemperature = 2 / math.SqrtPi // of erfc at the skin
	slopeOfFlow        = 1.7724538509055159
)

// newProfile returns the profile t s after the pour in a fill of diffusivity
// alpha, mm²/s; contact is the contact's resistance times the fill's
// conductivity, mm.
func newProfile(t, alpha, contact float64) profile {
	p := profile{twice: 2 * math.Sqrt(alpha*t), hard: 1}
	if x := p.twice / 2; contact > 0 {
		x /= contact
		// The flow through the contact is exp(x²)·erfc(x) of that at first.
		p.deep = contact * (1/scaledErfc(x) - 1)
		p.hard = (slopeOfFlow - p.twice/p.deep) / (slopeOfFlow - slopeOfTemperature)
		p.hard = math.Max(0, math.Min(1, p.hard))
	}
	p.deep = p.twice / p.slope()
	return p
}

func (p profile) slope() float64 {
	return p.hard*slopeOfTemperature + (1-p.hard)*slopeOfFlow
}

// scaledErfc is exp(x²)·erfc(x).
func scaledErfc(x float64) float64 {
	if x < 5 {
		return math.Exp(x*x) * math.Erfc(x)
	}
	y := 1 / (x * x)
	return (1 - y/2*(1-1.5*y*(1-2.5*y))) / (x * slopeOfFlow)
}

// once and twiceOver are the first and second integrals of erfc from x on.
func once(x, e float64) float64 { return math.Exp(-x*x)/math.SqrtPi - x*e }

func twiceOver(x, e float64) float64 {
	return ((1+2*x*x)*e - 2*x*math.Exp(-x*x)/math.SqrtPi) / 4
}

// at returns the rise at a depth over that at the skin, its slope along depth,
// 1/mm, and its integral from there on, mm.
func (p profile) at(depth float64) (rise, slope, rest float64) {
	x := depth / p.twice
	if x > 6 {
		return 0, 0, 0
	}
	e := math.Erfc(x)
	i1, i2 := once(x, e), twiceOver(x, e)
	soft := 1 - p.hard
	rise = p.hard*e + soft*math.SqrtPi*i1
	slope = (p.hard*slopeOfTemperature*math.Exp(-x*x) + soft*math.SqrtPi*e) / p.twice
	rest = (p.hard*i1 + soft*math.SqrtPi*i2) * p.twice
	return rise, slope, rest
}

// mean returns the mean rise, over that at the skin, from depth-spread to
// depth+spread.
func (p profile) mean(depth, spread float64) float64 {
	if spread < 1e-3*p.twice {
		rise, _, _ := p.at(depth)
		return rise
	}
	_, _, from := p.at(math.Max(0, depth-spread))
	_, _, to := p.at(depth + spread)
	return (from - to) / (depth + spread - math.Max(0, depth-spread))
}

// fromSkin returns by what distance the skin seems to be from the middle of a
// part whose mean depth is depth, mm: what the flow at the skin makes of the
// difference of temperatures.
func (p profile) fromSkin(depth, spread float64) float64 {
	return (1 - p.mean(depth, spread)) * p.deep
}

// most is what a correction may come to.
const most = 10

// through returns the factor on the flow between two parts by their difference:
// what passes between them over what their difference makes of it. lead is how
// much deeper the second would be if they lay straight across from each other.
func (p profile) through(depthA, spreadA, depthB, spreadB, lead float64) float64 {
	if depthB-depthA < 0.05*(spreadA+spreadB) || lead < 0.05*(spreadA+spreadB) {
		return 1
	}
	a, b := p.mean(depthA, spreadA), p.mean(depthB, spreadB)
	if a-b < 1e-9 {
		return 1
	}
	between := (depthA*spreadB + depthB*spreadA) / (spreadA + spreadB)
	_, slope, _ := p.at(between)
	return math.Min(most, slope*lead/(a-b))
}
