package pourplan

import "fmt"

// Life says how many molds the shots take, when one may not last; "" else.
func (p *Plan) Life() string {
	m, c := p.Metal, p.Casting
	if m.MoldsHigh < 2 {
		return ""
	}
	molds := fmt.Sprint(m.MoldsHigh)
	if m.MoldsLow < m.MoldsHigh {
		molds = fmt.Sprintf("%d or %d", m.MoldsLow, m.MoldsHigh)
	}
	usual := ""
	if c.LifeUsual {
		usual = ", common practice"
	}
	return fmt.Sprintf("%s for %d shots, poured in the same frames: one lasts %d to %d%s", molds, m.Shots, c.LifeLow, c.LifeHigh, usual)
}
