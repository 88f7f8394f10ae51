package pourplan

import (
	"errors"
	"slices"
)

// Undo returns the casting that takes back the last one of a mold that still
// stands; false when none does. Its line in the account has the other's figures
// with a minus, so that sums in a spreadsheet come right too.
func (a *Account) Undo(mold int, date, note string) (Casting, bool) {
	for i := len(a.Castings) - 1; i >= 0; i-- {
		if c := a.Castings[i]; c.Mold == mold {
			c.Date, c.Note, c.TakesBack = date, note, true
			return c, true
		}
	}
	return Casting{}, false
}

// takeBack removes the last casting that c takes back.
func (a *Account) takeBack(c Casting) error {
	for i := len(a.Castings) - 1; i >= 0; i-- {
		if a.Castings[i].sameFigures(c) {
			a.Castings = slices.Delete(a.Castings, i, i+1)
			a.TakenBack++
			return nil
		}
	}
	return errors.New("takes back a casting that is not listed above it")
}

// sameFigures reports whether two lines are of the same casting, whatever their
// dates and notes.
func (c Casting) sameFigures(d Casting) bool {
	return c.Mold == d.Mold && c.Shots == d.Shots && c.Good == d.Good && c.Bad == d.Bad && c.Head == d.Head &&
		c.Metal == d.Metal && c.Expected == d.Expected && slices.Equal(c.Weights, d.Weights)
}

// Repeats returns an earlier casting of the same mold and head with the very
// same list of weights: most likely the same heads, logged twice. One weight
// alone comes out the same by chance.
func (a *Account) Repeats(c Casting) (Casting, bool) {
	if len(c.Weights) < 2 {
		return Casting{}, false
	}
	for _, e := range a.Castings {
		if e.Mold == c.Mold && e.Head == c.Head && slices.Equal(e.Weights, c.Weights) {
			return e, true
		}
	}
	return Casting{}, false
}
