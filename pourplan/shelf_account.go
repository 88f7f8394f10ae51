package pourplan

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// What is done with the things on a shelf, as its account says it.
const (
	CanOpened  = "opened"  // a can holds so much of A and B
	CanUsed    = "used"    // so much was weighed out of it
	CanCounted = "counted" // so much is left in it, as weighed
	CanGone    = "gone"    // it is thrown away
	MoldMade   = "made"    // a mold was poured, out of a can or not
	MoldGone   = "retired" // it is thrown away
)

func shelfEvents() []string {
	return []string{CanOpened, CanUsed, CanCounted, CanGone, MoldMade, MoldGone}
}

// ShelfLine is one line of a shelf's account.
type ShelfLine struct {
	Date   string // 2026-01-31
	Event  string // one of the above
	Can    string // its name; "" when none is said
	Rubber string // in the can, or that the mold is of
	AG, BG float64
	Job    string // of the mold, from the shelf's folder, with slashes; "" for none
	Mold   int    // its number in the job's account; 0 for none
	Note   string // on one line

	MoldLabel // of a mold that was made

	TakesBack bool // the line takes back one with these figures
}

// MoldLabel is what the label of a mold says, as it was when the mold was made.
type MoldLabel struct {
	Name     string  // of the mold
	Heads    int     // of a shot
	HeadG    float64 // of a finished head; 0 when they differ
	Hook     string  // "" for none
	Metal    string
	PourC    float64
	Turn     string // how it stands when it is poured
	LifeLow  int    // shots that it lasts
	LifeHigh int
	Lead     bool // the metal has lead in it
}

// This file is a shelf's account as CSV that only grows (growing_csv.go). Its columns,
// figures with a decimal point:
//
//	date        day, 2026-01-31
//	event       opened, used, counted, gone, made, retired; with "undo " before it, it
//	            takes back the last such line with these figures, which have a minus
//	can         its name
//	rubber      in the can, or of the mold
//	a_g, b_g    part A and part B
//	job         of the mold, from the shelf's folder
//	mold        its number
//	name        of the mold, and the rest of its label:
//	heads, head_g, hook, metal, pour_c, turn, life_low, life_high, lead
//	note        anything on one line
func shelfColumns() []string {
	return []string{"date", "event", "can", "rubber", "a_g", "b_g", "job", "mold", "name", "heads", "head_g", "hook", "metal",
		"pour_c", "turn", "life_low", "life_high", "lead", "note"}
}

var shelfForm = growing{"the account of a shelf", shelfColumns()}

const undoWord = "undo "

// ShelfAccount is what was done with the things on a shelf.
type ShelfAccount struct {
	Lines     []ShelfLine // in the order of the file, less those that were taken back
	TakenBack int
	Faults    []LineFault // lines that cannot be taken as they are
}

// ReadShelfAccount reads the account of a shelf. A line that cannot be taken is among
// its faults; an error means that the file is no such account. No bytes are an empty one.
func ReadShelfAccount(data []byte) (*ShelfAccount, error) {
	a := &ShelfAccount{}
	l, body, err := shelfForm.open(data)
	if err != nil {
		return nil, err
	}
	reads := func(line string) bool {
		_, _, err := readShelfLine(l, line)
		return err == nil
	}
	l.each(body, reads, func(number int, line string, ended bool) {
		s, notice, err := readShelfLine(l, line)
		if err == nil && s.TakesBack {
			err = a.takeBack(s)
		} else if err == nil {
			a.Lines = append(a.Lines, s)
		}
		switch {
		case err != nil && !ended:
			err = fmt.Errorf("is cut off: %w", err)
		case err == nil && !ended && s.Note != "":
			notice = errNoteCut
		}
		switch {
		case err != nil:
			a.Faults = append(a.Faults, LineFault{Line: number, Mold: s.Mold, Err: err})
		case notice != nil:
			a.Faults = append(a.Faults, LineFault{Line: number, Counted: true, Err: notice})
		}
	})
	return a, nil
}

// takeBack removes the last line that s takes back.
func (a *ShelfAccount) takeBack(s ShelfLine) error {
	for i := len(a.Lines) - 1; i >= 0; i-- {
		was := a.Lines[i]
		was.Date, was.Note, was.TakesBack = s.Date, s.Note, true
		if was == s {
			a.Lines = append(a.Lines[:i:i], a.Lines[i+1:]...)
			a.TakenBack++
			return nil
		}
	}
	return errors.New("takes back a line that is not listed above it")
}

// readShelfLine reads one line; notice is what it counts with all the same.
func readShelfLine(l csvLayout, line string) (s ShelfLine, notice, err error) {
	fields, err := l.fields(line)
	if err != nil {
		return s, nil, err
	}
	r := l.reader(fields)
	s.Date = r.day()
	s.Event, s.TakesBack = strings.CutPrefix(strings.ToLower(r.text()), undoWord)
	s.Can, s.Rubber = fromCell(r.text()), fromCell(r.text())
	s.AG, s.BG = fourth(r.figure("a_g")), fourth(r.figure("b_g"))
	if r.err == nil && (r.minus && r.plus || r.minus != s.TakesBack && (s.AG > 0 || s.BG > 0)) {
		r.failAll("a_g and b_g must have a minus where a line begins with undo, and nowhere else")
	}
	s.Job, s.Mold = fromCell(r.text()), r.wholeOr0("mold")
	s.Name = fromCell(r.text())
	s.Heads, s.HeadG = r.wholeOr0("heads"), fourth(r.figure("head_g"))
	s.Hook, s.Metal, s.PourC, s.Turn = fromCell(r.text()), fromCell(r.text()), r.figure("pour_c"), fromCell(r.text())
	s.LifeLow, s.LifeHigh = r.wholeOr0("life_low"), r.wholeOr0("life_high")
	s.Lead = strings.EqualFold(r.text(), "lead")
	s.Note = fromCell(r.text())
	if r.err != nil {
		return s, nil, r.err
	}
	return s, r.notice, s.Check()
}

// wholeOr0 is 0 for an empty field.
func (r *fieldReader) wholeOr0(what string) int {
	if strings.TrimSpace(r.fields[0]) == "" {
		r.text()
		return 0
	}
	return r.whole(what)
}

// maxCan is more than any can holds, g.
const maxCan = 1e6

// Check says which figure of a line makes no sense.
func (s ShelfLine) Check() error {
	if _, err := time.Parse(time.DateOnly, s.Date); err != nil {
		return fmt.Errorf("date must be a day such as 2026-01-31, got %q", s.Date)
	}
	if !(s.AG >= 0 && s.AG <= maxCan && s.BG >= 0 && s.BG <= maxCan) {
		return fmt.Errorf("a_g and b_g must be 0 to %g g, got %g and %g", maxCan, s.AG, s.BG)
	}
	for _, text := range []string{s.Can, s.Rubber, s.Job, s.Name, s.Hook, s.Metal, s.Turn, s.Note} {
		if text != "" && text != s.Note && CheckLabel(text) != nil && text != s.Job || strings.IndexFunc(text, func(c rune) bool { return c < ' ' || c == 0x7f }) >= 0 {
			return fmt.Errorf("text must be a name on one line, got %q", text)
		}
	}
	if strings.TrimSpace(s.Note) != s.Note || strings.TrimSpace(s.Job) != s.Job {
		return errors.New("text must not begin or end with space")
	}
	for _, n := range []int{s.Heads, s.LifeLow, s.LifeHigh} {
		if n < 0 || n > maxShots {
			return fmt.Errorf("heads and life must be 0 to %d, got %d", maxShots, n)
		}
	}
	if !(s.HeadG >= 0 && s.HeadG <= maxWeight) || math.Abs(s.PourC) > 2000 || math.IsNaN(s.PourC) || s.PourC < 0 {
		return fmt.Errorf("label must have a weight and a pouring temperature, got %g g and %g °C", s.HeadG, s.PourC)
	}
	some := s.AG > 0 || s.BG > 0
	switch s.Event {
	case CanOpened:
		if s.Can == "" || s.Rubber == "" || !some {
			return errors.New("opened needs a can, its rubber and what is in it")
		}
	case CanUsed:
		if s.Can == "" || !some {
			return errors.New("used needs a can and what was taken out of it")
		}
	case CanCounted, CanGone:
		if s.Can == "" {
			return fmt.Errorf("%s needs a can", s.Event)
		}
	case MoldMade, MoldGone:
		if s.Job == "" || s.Mold < 1 || s.Mold > maxMolds {
			return fmt.Errorf("%s needs a job, and a mold from 1 to %d", s.Event, maxMolds)
		}
	default:
		return fmt.Errorf("event must be one of %s, got %q", strings.Join(shelfEvents(), ", "), s.Event)
	}
	return nil
}

// fields are the line as it stands in the file.
func (s ShelfLine) fields() []string {
	event, sign := s.Event, 1.0
	if s.TakesBack {
		event, sign = undoWord+event, -1
	}
	whole := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	figure := func(x float64) string {
		if x == 0 {
			return ""
		}
		return plainFigure(x)
	}
	lead := ""
	if s.Lead {
		lead = "lead"
	}
	return []string{s.Date, event, toCell(s.Can), toCell(s.Rubber), figure(sign * s.AG), figure(sign * s.BG), toCell(s.Job), whole(s.Mold), toCell(s.Name),
		whole(s.Heads), figure(sign * s.HeadG), toCell(s.Hook), toCell(s.Metal), figure(sign * s.PourC), toCell(s.Turn), whole(s.LifeLow), whole(s.LifeHigh), lead, toCell(s.Note)}
}
