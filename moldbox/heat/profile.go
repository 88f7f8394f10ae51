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

// beyond is how deep, over twice, the fill is as it was.
const beyond = 6

// erfcTable has erfc(x) and exp(-x²)/√π at steps of x up to beyond.
type erfcTable [beyond*erfcSteps + 2][2]float64

const erfcSteps = 128

var erfcs = newErfcTable()

func newErfcTable() *erfcTable {
	t := &erfcTable{}
	for i := range t {
		x := float64(i) / erfcSteps
		t[i] = [2]float64{math.Erfc(x), math.Exp(-x*x) / math.SqrtPi}
	}
	return t
}

// at returns both at an x from 0 to beyond, within 1e-10: cubics between the steps, with
// the slopes that the functions have there.
func (t *erfcTable) at(x float64) (e, g float64) {
	const h = 1.0 / erfcSteps
	i := int(x * erfcSteps)
	a, b, x0 := &t[i], &t[i+1], float64(i)*h
	u := (x - x0) * erfcSteps
	v := 1 - u
	// The slopes are -2g and -2xg.
	fa, fb, sa, sb := v*v*(1+2*u), u*u*(1+2*v), u*v*v*h, -u*u*v*h
	e = fa*a[0] + fb*b[0] - 2*(sa*a[1]+sb*b[1])
	g = fa*a[1] + fb*b[1] - 2*(sa*x0*a[1]+sb*(x0+h)*b[1])
	return e, g
}

// slopeAt is the rise's slope along depth at a depth, 1/mm.
func (p profile) slopeAt(depth float64) float64 {
	x := depth / p.twice
	if x > beyond {
		return 0
	}
	e, g := erfcs.at(x)
	return (p.hard*2*g + (1-p.hard)*math.SqrtPi*e) / p.twice
}

// at returns the rise at a depth over that at the skin, and its integral from
// there on, mm: of the repeated integrals of erfc.
func (p profile) at(depth float64) (rise, rest float64) {
	x := depth / p.twice
	if x > beyond {
		return 0, 0
	}
	e, g := erfcs.at(x)
	once, twice := g-x*e, ((1+2*x*x)*e-2*x*g)/4
	soft := (1 - p.hard) * math.SqrtPi
	return p.hard*e + soft*once, (p.hard*once + soft*twice) * p.twice
}

// mean returns the mean rise, over that at the skin, from depth-spread to
// depth+spread.
func (p profile) mean(depth, spread float64) float64 {
	if spread < 1e-3*p.twice {
		rise, _ := p.at(depth)
		return rise
	}
	_, from := p.at(math.Max(0, depth-spread))
	_, to := p.at(depth + spread)
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
// what passes between them over what their difference makes of it. drop is how
// much the first has risen more, lead how much deeper the second would be if they
// lay straight across from each other.
func (p profile) through(a, b *gridPart, drop, lead float64) float64 {
	least := 0.05 * (a.spread + b.spread)
	if b.fromCast-a.fromCast < least || lead < least || drop < 1e-9 {
		return 1
	}
	between := (a.fromCast*b.spread + b.fromCast*a.spread) / (a.spread + b.spread)
	return math.Min(most, p.slopeAt(between)*lead/drop)
}
