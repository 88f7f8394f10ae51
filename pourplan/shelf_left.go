package pourplan

import (
	"math"
	"slices"
	"time"
)

// Can is an open can of rubber, parts A and B together.
type Can struct {
	Name   string
	Rubber string
	Opened string  // day
	AG, BG float64 // left, g; below 0 when more was used than was in it
}

// Cans are those that are open, in the order in which they were opened.
func (a *ShelfAccount) Cans() []Can {
	var list []Can
	for _, s := range a.Lines {
		i := slices.IndexFunc(list, func(c Can) bool { return c.Name == s.Can })
		switch {
		case s.Can == "":
		case s.Event == CanOpened && i < 0:
			list = append(list, Can{s.Can, s.Rubber, s.Date, s.AG, s.BG})
		case i < 0: // its opening was taken back, or cannot be read
		case s.Event == CanOpened:
			list[i].AG, list[i].BG = fourth(list[i].AG+s.AG), fourth(list[i].BG+s.BG)
		case s.Event == CanCounted:
			list[i].AG, list[i].BG = s.AG, s.BG
		case s.Event == CanGone:
			list = slices.Delete(list, i, i+1)
		default:
			list[i].AG, list[i].BG = fourth(list[i].AG-s.AG), fourth(list[i].BG-s.BG)
		}
	}
	return list
}

// Lost are the lines that take from a can that no line opens: how much is left of it
// is not known.
func (a *ShelfAccount) Lost() (cans []string) {
	open := map[string]bool{}
	for _, s := range a.Lines {
		switch {
		case s.Event == CanOpened:
			open[s.Can] = true
		case s.Can != "" && !open[s.Can] && !slices.Contains(cans, s.Can):
			cans = append(cans, s.Can)
		}
	}
	return cans
}

// Molds are the lines of the molds that were made and are not thrown away.
func (a *ShelfAccount) Molds() []ShelfLine {
	var list []ShelfLine
	for _, s := range a.Lines {
		same := func(m ShelfLine) bool { return m.Job == s.Job && m.Mold == s.Mold }
		switch s.Event {
		case MoldMade:
			list = append(slices.DeleteFunc(list, same), s)
		case MoldGone:
			list = slices.DeleteFunc(list, same)
		}
	}
	return list
}

// Pours is how many times a and b g, both at least 0, can be weighed out of a can.
func (c Can) Pours(a, b float64) int {
	n := math.Inf(1)
	for _, p := range [][2]float64{{c.AG, a}, {c.BG, b}} {
		if p[1] > 0 {
			n = math.Min(n, math.Floor(p[0]/p[1]+1e-9))
		}
	}
	return int(math.Max(0, math.Min(n, maxShots)))
}

// BestBy is the last day that an opened can keeps to; "" when that is not known.
func (c Can) BestBy(s ShelfRubber) string {
	opened, err := time.Parse(time.DateOnly, c.Opened)
	if err != nil || s.Opens == nil {
		return ""
	}
	return opened.AddDate(0, 0, int(float64(*s.Opens)/86400)).Format(time.DateOnly)
}
