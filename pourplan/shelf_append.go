package pourplan

import (
	"errors"
	"fmt"
)

// AppendShelf returns the bytes to put behind a shelf's account, so that the line
// stands in it by itself. It is refused when the account does not go with it: a can
// that is not open, one that is opened twice. Nothing that stands there is changed.
func AppendShelf(data []byte, s ShelfLine) ([]byte, error) {
	s.AG, s.BG, s.HeadG = fourth(s.AG), fourth(s.BG), fourth(s.HeadG)
	if err := s.Check(); err != nil {
		return nil, err
	}
	a, err := ReadShelfAccount(data)
	if err != nil {
		return nil, err
	}
	if err := a.fits(s); err != nil {
		return nil, err
	}
	return shelfForm.add(data, s.fields())
}

// UndoShelf returns the bytes to put behind a shelf's account that take back the last
// line that still stands and that which asks for, and what that line was.
func UndoShelf(data []byte, date, note string, which func(ShelfLine) bool) ([]byte, ShelfLine, error) {
	a, err := ReadShelfAccount(data)
	if err != nil {
		return nil, ShelfLine{}, err
	}
	for i := len(a.Lines) - 1; i >= 0; i-- {
		if s := a.Lines[i]; which(s) {
			s.Date, s.Note, s.TakesBack = date, note, true
			if err := s.Check(); err != nil {
				return nil, s, err
			}
			more, err := shelfForm.add(data, s.fields())
			return more, s, err
		}
	}
	return nil, ShelfLine{}, ErrNothingToUndo
}

// ErrNothingToUndo says that no line stands that could be taken back.
var ErrNothingToUndo = errors.New("has nothing to take back")

// fits says why a line does not go with those before it.
func (a *ShelfAccount) fits(s ShelfLine) error {
	open := map[string]bool{}
	var names []string
	for _, c := range a.Cans() {
		open[c.Name] = true
		names = append(names, c.Name)
	}
	switch {
	case s.Event == CanOpened && open[s.Can]:
		return &ShelfRefusal{fmt.Sprintf("can %q is open already", s.Can), "give the new can another name"}
	case s.Event == CanOpened || s.Can == "" || open[s.Can]:
	case len(names) == 0:
		return &ShelfRefusal{fmt.Sprintf("no can %q is open", s.Can), "open it first: halfpour shelf --open"}
	default:
		return &ShelfRefusal{fmt.Sprintf("no can %q is open", s.Can), suggest(s.Can, names)}
	}
	if s.Event == MoldMade || s.Event == MoldGone {
		made := false
		for _, m := range a.Molds() {
			made = made || m.Job == s.Job && m.Mold == s.Mold
		}
		if made && s.Event == MoldMade {
			return &ShelfRefusal{fmt.Sprintf("mold %d of %s was made already", s.Mold, s.Job), fmt.Sprintf("a new mold has a new number: --mold %d", s.Mold+1)}
		}
		if !made && s.Event == MoldGone {
			return &ShelfRefusal{fmt.Sprintf("mold %d of %s was not made, or is gone", s.Mold, s.Job), "halfpour shelf lists the molds"}
		}
	}
	return nil
}

// ShelfRefusal is why a line does not go with a shelf's account, and what to do.
type ShelfRefusal struct{ What, Hint string }

// Error is what is wrong.
func (e *ShelfRefusal) Error() string { return e.What }
