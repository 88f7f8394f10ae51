package pourplan

import (
	"errors"
	"fmt"
	"math"
	"time"
	"unicode"
)

// Account is the record of what was cast in a job's molds. It stands as CSV
// next to the job: account_csv.go has its form.
type Account struct {
	Castings  []Casting   // in the order of the file, less those that were taken back
	TakenBack int         // castings
	Faults    []LineFault // lines that cannot be taken as they are
}

// Casting is one line of an account.
type Casting struct {
	Date  string // 2026-01-31
	Mold  int    // its number, from 1; a new mold of the same job has the next
	Shots int    // poured; 0 when heads are only weighed
	Good  int    // heads of these shots
	Bad   int
	Note  string // on one line

	TakesBack bool // the line takes back one with these figures

	Weighing // of some of the good heads; empty when none were weighed
}

// Weighing is good heads of one kind that were weighed one by one, gates cut,
// hooks in, with what had been computed of them when they were cast.
type Weighing struct {
	Head     string    // cavity's name; "" when all are alike
	Weights  []float64 // g
	Expected Range     // g
	Metal    string    // its name
	MetalMM3 float64   // in one head, as coldMoldShrink counts
	SteelG   float64   // of its wires
}

// Weigh returns the weighing of heads of a plan's cavity, weights in g. head
// may be "" when all cavities are alike.
func (p *Plan) Weigh(head string, weights []float64) (Weighing, error) {
	h, err := p.weighedHead(head)
	if err != nil {
		return Weighing{}, err
	}
	w := Weighing{Head: head, Expected: Range{fourth(h.FinishedG.Low), fourth(h.FinishedG.Best), fourth(h.FinishedG.High)},
		Metal: p.Metal.Name, MetalMM3: fourth(h.MetalMM3 * p.Metal.accountShare()), SteelG: fourth(h.SteelG)}
	for _, g := range weights {
		if !(g > 0.5*h.FinishedG.Best && g < 1.5*h.FinishedG.Best) {
			return Weighing{}, fmt.Errorf("must be within half of what is expected, %.2f g, got %g g: is the unit right? is it one head?", h.FinishedG.Best, g)
		}
		w.Weights = append(w.Weights, fourth(g))
	}
	return w, nil
}

// InMold returns a weighing with the figures that earlier ones in the same mold
// of the same kind of head in the same metal have: a mold stays what it was
// when the job is built anew. changed reports that the metal's volume is
// another by more than 0.1 %.
func (a *Account) InMold(mold int, w Weighing) (own Weighing, changed bool) {
	for _, c := range a.Castings {
		if c.Mold == mold && len(c.Weights) > 0 && c.Head == w.Head && c.Metal == w.Metal {
			own = c.Weighing
			own.Weights = w.Weights
			return own, math.Abs(own.MetalMM3-w.MetalMM3) > 1e-3*own.MetalMM3
		}
	}
	return w, false
}

// weighedHead finds the head that is meant.
func (p *Plan) weighedHead(name string) (HeadPlan, error) {
	var names []string
	for _, h := range p.Heads {
		if name == h.Name {
			return h, nil
		}
		names = append(names, h.Name)
	}
	if name != "" {
		return HeadPlan{}, fmt.Errorf("knows no cavity %q: %s", name, suggest(name, names))
	}
	for _, h := range p.Heads[1:] {
		if math.Abs(h.FinishedG.Best-p.Heads[0].FinishedG.Best) > 1e-3*h.FinishedG.Best {
			return HeadPlan{}, fmt.Errorf("must name the cavity, since the heads differ: %s", suggest("", names))
		}
	}
	return p.Heads[0], nil
}

// fourth rounds to what a line shows: 0.1 mg is finer than any bench scale.
func fourth(x float64) float64 { return math.Round(x*1e4) / 1e4 }

// LineFault is a line of an account that cannot be used.
type LineFault struct {
	Line    int   // from 1
	Counted bool  // all figures are there; only the note may be short
	Mold    int   // that the line names; 0 when it names none
	Err     error // what is wrong
}

// Error reads "line 7: date must be ...; not counted".
func (f LineFault) Error() string {
	end := "not counted"
	if f.Counted {
		end = "counted"
	}
	return fmt.Sprintf("line %d: %v; %s", f.Line, f.Err, end)
}

// Unwrap returns what is wrong without its place.
func (f LineFault) Unwrap() error { return f.Err }

// Unread returns the first line that does not count because it cannot be read,
// and may be of another mold than the last; false when there is none.
func (a *Account) Unread() (LineFault, bool) {
	for _, f := range a.Faults {
		if !f.Counted && f.Mold != a.LastMold() {
			return f, true
		}
	}
	return LineFault{}, false
}

// maxMolds is more molds than anyone makes of one job.
const maxMolds = 10000

// Check says which figure of a casting makes no sense.
func (c Casting) Check() error {
	if _, err := time.Parse(time.DateOnly, c.Date); err != nil {
		return fmt.Errorf("date must be a day such as 2026-01-31, got %q", c.Date)
	}
	if c.Mold < 1 || c.Mold > maxMolds {
		return fmt.Errorf("mold must be 1 to %d, got %d", maxMolds, c.Mold)
	}
	for _, n := range []struct {
		what  string
		count int
	}{{"shots", c.Shots}, {"good", c.Good}, {"bad", c.Bad}} {
		if n.count < 0 || n.count > maxShots {
			return fmt.Errorf("%s must be 0 to %d, got %d", n.what, maxShots, n.count)
		}
	}
	switch {
	case c.Shots == 0 && c.Good+c.Bad > 0:
		return fmt.Errorf("shots must be above 0 to give heads, got 0 with %d good and %d bad", c.Good, c.Bad)
	case c.Shots == 0 && len(c.Weights) == 0:
		return errors.New("must have shots or weights, got neither")
	}
	for _, text := range []string{c.Note, c.Head, c.Metal} {
		for _, r := range text {
			if unicode.IsControl(r) {
				return fmt.Errorf("text must be on one line, got %q", text)
			}
		}
	}
	return c.Weighing.check()
}

// maxWeight is more than any jig head weighs, g.
const maxWeight = 1e5

func (w Weighing) check() error {
	if len(w.Weights) == 0 {
		return nil
	}
	for _, g := range w.Weights {
		if !(g > 0 && g <= maxWeight) {
			return fmt.Errorf("weight must be above 0 and at most %g g, got %g g", maxWeight, g)
		}
	}
	e := w.Expected
	if !(e.Low > 0 && e.Low <= e.Best && e.Best <= e.High && e.High <= maxWeight) {
		return fmt.Errorf("weights need what was expected, low to high, got %g, %g, %g g", e.Low, e.Best, e.High)
	}
	if w.Metal == "" || !(w.MetalMM3 > 0 && w.MetalMM3 <= 1e3*maxWeight) || !(w.SteelG >= 0 && w.SteelG < e.Low) {
		return fmt.Errorf("weights need the metal's name, its volume and the steel's mass, got %q, %g mm³, %g g", w.Metal, w.MetalMM3, w.SteelG)
	}
	return nil
}
