package heat

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// twoPhase is a metal with the same figures in solid and melt, that melts at 300 °C:
// diffusivity 20 mm²/s, latent heat stefan times what 100 K more of it hold.
func twoPhase(stefan float64) Substance {
	const k, c = 30.0, 1.5e-3
	melt := c * 300 * (1 + stefan/3)
	return Substance{Name: "metal", States: []State{{0, 0, 1, k}, {300, c * 300, 1, k}, {300, melt, 0, k}, {400, melt + 100*c, 0, k}}}
}

// cold is what keeps what touches it at its own temperature.
func cold() Substance { return Plain("cold", 1e5, 1e7, 1) }

// inward is the freezing of a ball of radius 1 and diffusivity 1 whose surface is
// kept at -1, from superheat over its melting point 0, by a scheme of its own: both
// phases on grids that move with the front (Landau's transformation), from Neumann's
// plane solution on. It returns when the front is at each radius.
func inward(stefan, superheat float64, radii []float64) []float64 {
	const n = 40
	lambda := neumann(Plain("", 1e3, 1e3, 1), Plain("", 1e3, 1e3, 1), stefan, 1, superheat)
	front := 0.97
	time := (1 - front) * (1 - front) / (4 * lambda * lambda)
	// Both hold r times the temperature, at the front first, then outward or inward.
	var solid, melt, next [n + 1]float64
	for i := range solid {
		x := float64(i) / n
		r := front + x*(1-front)
		solid[i] = -r * (1 - math.Erf((1-r)/(2*math.Sqrt(time)))/math.Erf(lambda))
		r = front * (1 - x)
		melt[i] = r * superheat * (1 - math.Erfc((1-r)/(2*math.Sqrt(time)))/math.Erfc(lambda))
	}
	var times []float64
	for _, to := range radii {
		was, before := front, time
		for front > to {
			shell, core := (1-front)/n, front/n
			// Slopes of the temperature at the front, of second order.
			out := (4*solid[1] - solid[2]) / (2 * shell) / front
			in := -(4*melt[1] - melt[2]) / (2 * core) / front
			speed := (out - in) / stefan
			dt := 0.3 * math.Min(shell*shell, core*core)
			was, before = front, time
			step := func(w *[n + 1]float64, h, along float64) {
				for i := 1; i < n; i++ {
					x := float64(i) / n
					next[i] = w[i] + dt*((w[i+1]-2*w[i]+w[i-1])/(h*h)+(1-x)*speed*along*(w[i+1]-w[i-1])/(2*h))
				}
				next[0], next[n] = 0, w[n]
				*w = next
			}
			step(&solid, shell, 1)
			step(&melt, core, -1)
			solid[n], melt[n] = -1, 0
			front, time = front+dt*speed, time+dt
		}
		times = append(times, before+(time-before)*(was-to)/(was-front))
	}
	return times
}

// The scheme for the ball holds what is known: without superheat the front is at R
// at β/6·(1-3R²+2R³) + (1-R)²/6 for large β (the series of Riley, Smith & Poots,
// Int. J. Heat Mass Transfer 17 (1974) 1507, from memory).
func TestInward(t *testing.T) {
	for i, got := range inward(10, 1e-9, []float64{0.8, 0.5, 0.3}) {
		r := []float64{0.8, 0.5, 0.3}[i]
		want := 10.0/6*(1-3*r*r+2*r*r*r) + (1-r)*(1-r)/6
		if math.Abs(got/want-1) > 4e-3 {
			t.Errorf("the front is at %g after %.5f, want %.5f", r, got, want)
		}
	}
}

// A ball that is kept cold at its surface freezes inward from above its melting
// point: the two-phase problem of McCue, Wu & Hill, Proc. R. Soc. A 464 (2008) 2055.
// Their curves were not at hand; the figures are those of the scheme above. Cells of
// a quarter of a millimetre come within 0.6 and 0.1 % of them.
func TestTwoPhaseSphere(t *testing.T) {
	const radius, diffusivity = 6.0, 20.0
	shares, radii := []float64{0.9, 0.98}, []float64{math.Cbrt(0.1), math.Cbrt(0.02)} // solid, and where the front is then
	for _, c := range []struct{ stefan, superheat, cell, limit float64 }{{2, 0.3, 1, 0.06}, {1, 1, 1, 0.07}, {2, 0.3, 0.5, 0.02}} {
		metal := twoPhase(c.stefan)
		scene := Scene{Box: around(8), Fill: cold(), FillC: 200,
			Bodies: []Body{{Role: Head, Solid: geom.Ball(geom.Vec{}, radius), Substance: metal, Start: 300 + 100*c.superheat}}}
		g, err := newGrid(context.Background(), &scene, c.cell, 0)
		if err != nil {
			t.Fatal(err)
		}
		s := newState(g)
		var times []float64
		was := 0.0
		s.march(10, 0, pace{first: 5e-4, share: 0.06, steady: 1}, func() bool { return false }, func(from float64) bool {
			frozen, all := 0.0, 0.0
			for i, p := range g.parts {
				if p.body == 0 {
					frozen, all = frozen+s.volume[i]*s.share(i), all+s.volume[i]
				}
			}
			for len(times) < len(shares) && frozen/all >= shares[len(times)] {
				times = append(times, from+(s.time-from)*(shares[len(times)]-was)/(frozen/all-was))
			}
			was = frozen / all
			return len(times) < len(shares)
		})
		for i, want := range inward(c.stefan, c.superheat, radii) {
			want *= radius * radius / diffusivity
			t.Logf("Stefan number 1/%g, superheat %g, cells of %g mm: %g frozen after %.4f s, %+.4f", c.stefan, c.superheat, c.cell, shares[i], want, times[i]/want-1)
			if math.Abs(times[i]/want-1) > c.limit {
				t.Errorf("Stefan number 1/%g, superheat %g, cells of %g mm: %g is frozen after %.4f s, want %.4f", c.stefan, c.superheat, c.cell, shares[i], times[i], want)
			}
		}
	}
}

// corner is the freezing of a quarter of a plane of diffusivity 1 whose two edges are
// kept at -1, from superheat over its melting point 0, by an explicit scheme of
// enthalpy on a fine grid. It returns where the front is, over 2√t: along one edge
// far from the other, and on the diagonal.
func corner(stefan, superheat float64) (edge, diagonal float64) {
	const n, far = 120, 3.6 // cells, and where nothing has come in 2√t
	heat := make([]float64, n*n)
	at := make([]float64, (n+2)*(n+2))
	for i := range heat {
		heat[i] = stefan + superheat
	}
	// Of a heat h, 0 to stefan is at the melting point.
	temperature := func(h float64) float64 { return math.Min(h, 0) + math.Max(0, h-stefan) }
	const dt = 0.2
	end := math.Pow(n/far/2, 2)
	for t := 0.0; t < end; t += dt {
		for j := range n {
			for i := range n {
				at[(j+1)*(n+2)+i+1] = temperature(heat[j*n+i])
			}
		}
		for i := range n + 2 {
			// The edge lies half a cell beyond the first cells' middles.
			at[i], at[i*(n+2)] = -2-at[n+2+i], -2-at[i*(n+2)+1]
			at[(n+1)*(n+2)+i], at[i*(n+2)+n+1] = at[n*(n+2)+i], at[i*(n+2)+n]
		}
		for j := range n {
			for i := range n {
				m := (j+1)*(n+2) + i + 1
				heat[j*n+i] += dt * (at[m-1] + at[m+1] + at[m-n-2] + at[m+n+2] - 4*at[m])
			}
		}
	}
	unit := 2 * math.Sqrt(end)
	// What is frozen of a line of cells tells where the front is.
	along := func(step func(i int) int) float64 {
		sum := 0.0
		for i := range n {
			sum += 1 - math.Max(0, math.Min(1, heat[step(i)]/stefan))
		}
		return sum / unit
	}
	return along(func(i int) int { return (n-1)*n + i }), along(func(i int) int { return i*n + i })
}

// Melt in a corner that is kept cold, from above its melting point: Rathjen & Jiji,
// J. Heat Transfer 93 (1971) 101, give the front, in lengths of 2√(αt), as
// y = (λᵐ + C/(xᵐ-λᵐ))^(1/m), with λ 0.70766, C 0.159 and m 5.02 for a latent heat of
// 0.25 and a superheat of 0.3 (from memory; λ is Neumann's, as is checked here). On
// the diagonal that is (λᵐ+√C)^(1/m). The scheme above agrees.
func TestCorner(t *testing.T) {
	const latent, superheat, lambda, c, m = 0.25, 0.3, 0.70766, 0.159, 5.02
	if got := neumann(Plain("", 1e3, 1e3, 1), Plain("", 1e3, 1e3, 1), latent, 1, superheat); math.Abs(got-lambda) > 1e-5 {
		t.Errorf("λ %.6f, want %g", got, lambda)
	}
	want := math.Pow(math.Pow(lambda, m)+math.Sqrt(c), 1/m)
	edge, diagonal := corner(latent, superheat)
	t.Logf("λ %.4f on a fine grid; the diagonal %.4f, on a fine grid %.4f", edge, want, diagonal)
	if math.Abs(edge/lambda-1) > 0.01 || math.Abs(diagonal/want-1) > 0.015 {
		t.Errorf("on a fine grid the front is at %.4f and %.4f, want %g and %.4f", edge, diagonal, lambda, want)
	}

	const wide, deep, until = 66, 0.5, 4.0 // mm, s: heat has not come to the far sides
	block := func(x, y float64) geom.Solid {
		return geom.Block(geom.Box{Min: geom.Vec{X: -1, Y: -1}, Max: geom.Vec{X: x, Y: y, Z: deep}})
	}
	scene := Scene{Box: geom.Box{Min: geom.Vec{X: -1, Y: -1}, Max: geom.Vec{X: wide, Y: wide, Z: deep}}, Fill: plainRubber(),
		Bodies: []Body{
			{Role: Fixed, Solid: geom.Union(block(0, wide), block(wide, 0)), Substance: cold(), Start: 200},
			{Role: Head, Solid: block(wide, wide), Substance: twoPhase(latent), Start: 300 + 100*superheat}}}
	g, err := newGrid(context.Background(), &scene, 0.75, 0)
	if err != nil {
		t.Fatal(err)
	}
	s := newState(g)
	s.march(until, 0, pace{first: 2e-3, share: 0.05, steady: 0.1}, func() bool { return true }, func(float64) bool { return true })
	// What is frozen on the diagonal and along the far side tells where the front is.
	unit := 2 * math.Sqrt(20*until)
	along := func(place func(x float64) geom.Vec) float64 {
		n, sum := 4000, 0.0
		snapshot := s.snapshot(&watch{})
		for i := range n {
			x, _ := snapshot.At(place((float64(i) + 0.5) / float64(n) * wide))
			sum += x.Solid
		}
		return sum / float64(n) * wide / unit
	}
	far := along(func(x float64) geom.Vec { return geom.Vec{X: x, Y: wide - 1, Z: deep / 2} })
	across := along(func(x float64) geom.Vec { return geom.Vec{X: x, Y: x, Z: deep / 2} })
	t.Logf("cells of 0.75 mm: %.4f and %.4f", far, across)
	if math.Abs(far/lambda-1) > 0.02 || math.Abs(across/want-1) > 0.02 {
		t.Errorf("the front is at %.4f and on the diagonal %.4f, want %g and %.4f", far, across, lambda, want)
	}
}
