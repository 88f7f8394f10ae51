package pourplan

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// This file is the account as CSV that only grows: a line a casting, in the order in
// which they were logged (growing_csv.go).
//
// Columns, figures with a decimal point:
//
//	date        day of casting, 2026-01-31
//	mold        number of the mold, from 1
//	shots       poured into it; 0 for heads that are only weighed
//	good, bad   heads out of these shots
//	head        cavity of the weighed heads; empty when all are alike
//	weights_g   each weighed head, separated by spaces; may be empty
//	expected_g  computed mass of such a head, empty without weights
//	low_g       least of it
//	high_g      most of it
//	metal       its name
//	metal_mm3   computed volume of cold metal in such a head, from a mold that
//	            was cold and whose metal shrinks from its melting point
//	steel_g     mass of its hook and other wires
//	note        anything on one line
//
// A line that takes back an earlier one has its figures with a minus, but for
// mold and weights. Text that a spreadsheet would run as a formula stands behind
// an apostrophe.
//
// More columns are left alone.
func accountColumns() []string {
	return []string{"date", "mold", "shots", "good", "bad", "head", "weights_g", "expected_g", "low_g", "high_g",
		"metal", "metal_mm3", "steel_g", "note"}
}

var accountForm = growing{"an account", accountColumns()}

// MaxAccountBytes is some thirty thousand castings.
const MaxAccountBytes = maxGrowingBytes

// ReadAccount reads an account. A line that cannot be taken is among its
// faults; an error means that the file is no account at all. No bytes are an
// empty account.
func ReadAccount(data []byte) (*Account, error) {
	a := &Account{}
	l, body, err := accountForm.open(data)
	if err != nil {
		return nil, err
	}
	reads := func(line string) bool {
		_, _, err := readCasting(l, line)
		return err == nil
	}
	l.each(body, reads, func(number int, line string, ended bool) { a.take(l, number, line, ended) })
	return a, nil
}

// take reads one line after the header; ended says whether it has its end.
func (a *Account) take(l csvLayout, number int, line string, ended bool) {
	c, notice, err := readCasting(l, line)
	if err == nil && c.TakesBack {
		err = a.takeBack(c)
	} else if err == nil {
		a.Castings = append(a.Castings, c)
		if !ended && c.Note != "" {
			notice = errNoteCut
		}
	}
	if err == nil && notice != nil {
		a.Faults = append(a.Faults, LineFault{Line: number, Counted: true, Err: notice})
	}
	if err == nil {
		return
	}
	if !ended {
		err = fmt.Errorf("is cut off: %w", err)
	}
	a.Faults = append(a.Faults, LineFault{Line: number, Mold: c.Mold, Err: err})
}

var errNoteCut = errors.New("has no end, so its note may be cut off")

// readCasting reads one line; notice is what it counts with all the same.
func readCasting(l csvLayout, line string) (c Casting, notice, err error) {
	fields, err := l.fields(line)
	if err != nil {
		if len(fields) > 1 && fields[2] != "" { // the mold's column has its end
			c.Mold, _ = strconv.Atoi(strings.TrimSpace(fields[1]))
		}
		return c, nil, err
	}
	r := l.reader(fields)
	c.Date = r.day()
	c.Mold, c.Shots, c.Good, c.Bad = r.whole("mold"), r.count("shots"), r.count("good"), r.count("bad")
	c.Head = fromCell(r.text())
	for _, w := range strings.Fields(r.text()) {
		c.Weights = append(c.Weights, r.number("weights_g", w))
	}
	c.Expected.Best = r.figure("expected_g")
	c.Expected.Low, c.Expected.High = r.figure("low_g"), r.figure("high_g")
	c.Metal = fromCell(r.text())
	c.MetalMM3, c.SteelG = r.figure("metal_mm3"), r.figure("steel_g")
	c.Note = fromCell(r.text())
	c.TakesBack = r.minus
	if r.minus && r.plus {
		r.failAll("must all have a minus, to take a casting back, or none")
	}
	if r.err != nil {
		return c, nil, r.err
	}
	if len(c.Weights) == 0 {
		c.Weighing = Weighing{}
	}
	return c, r.notice, c.Check()
}

// fields are the casting as it stands in the file.
func (c Casting) fields() []string {
	sign := 1
	if c.TakesBack {
		sign = -1
	}
	count := func(n int) string { return strconv.Itoa(sign * n) }
	figure := func(x float64) string { return plainFigure(float64(sign) * x) }
	fields := []string{c.Date, strconv.Itoa(c.Mold), count(c.Shots), count(c.Good), count(c.Bad)}
	if w := c.Weighing; len(w.Weights) > 0 {
		var weights []string
		for _, g := range w.Weights {
			weights = append(weights, plainFigure(g))
		}
		fields = append(fields, toCell(w.Head), strings.Join(weights, " "), figure(w.Expected.Best), figure(w.Expected.Low), figure(w.Expected.High),
			toCell(w.Metal), figure(w.MetalMM3), figure(w.SteelG))
	} else {
		fields = append(fields, make([]string, 8)...)
	}
	return append(fields, toCell(c.Note))
}

// Append returns the bytes to put behind an account's, so that the casting
// stands in it on a line of its own. Nothing that stands there is changed.
func Append(data []byte, c Casting) ([]byte, error) {
	if err := c.Check(); err != nil {
		return nil, err
	}
	return accountForm.add(data, c.fields())
}
