package heat

// curve is a substance laid out for quick steps from heat to temperature.
type curve struct {
	h, c, k, solid []float64 // of the states
	store, rise    []float64 // of heat with temperature, J/(mm³·K), and one over it
	conductivity   []float64 // rise of k with heat, W/(mm·K) on J/mm³
}

// flattest is over how many K a melting point is spread, so that heat is a
// function of temperature and the other way round.
const flattest = 0.3

func newCurve(s Substance) *curve {
	c := &curve{}
	for i, a := range s.States {
		c.h, c.c, c.solid, c.k = append(c.h, a.H), append(c.c, a.C), append(c.solid, a.Solid), append(c.k, a.K*1e-3)
		if i > 0 && a.C < c.c[i-1]+flattest {
			c.c[i] = c.c[i-1] + flattest
		}
	}
	for i := 1; i < len(c.h); i++ {
		c.store = append(c.store, (c.h[i]-c.h[i-1])/(c.c[i]-c.c[i-1]))
		c.rise = append(c.rise, 1/c.store[i-1])
		c.conductivity = append(c.conductivity, (c.k[i]-c.k[i-1])/(c.h[i]-c.h[i-1]))
	}
	return c
}

// stretch returns between which states h lies, beginning the search at one.
func (c *curve) stretch(h float64, from int) int {
	for from > 0 && h < c.h[from] {
		from--
	}
	for from < len(c.store)-1 && h > c.h[from+1] {
		from++
	}
	return from
}

// temperature at heat h on a stretch.
func (c *curve) temperature(h float64, i int) float64 { return c.c[i] + (h-c.h[i])*c.rise[i] }

// share that is solid at heat h on a stretch.
func (c *curve) share(h float64, i int) float64 {
	t := (h - c.h[i]) / (c.h[i+1] - c.h[i])
	return c.solid[i] + max(0, min(1, t))*(c.solid[i+1]-c.solid[i])
}

// conducts is the conductivity at heat h on a stretch, W/(mm·K).
func (c *curve) conducts(h float64, i int) float64 {
	return c.k[i] + max(0, min(h, c.h[i+1])-c.h[i])*c.conductivity[i]
}
