package pourplan

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// This file is the account as CSV by RFC 4180, to open in a spreadsheet: a
// header, then a line a casting, in the order in which they were logged. Every
// line ends in CR LF. No field that is written here holds a line break, so that a
// line is a record: one that a crash has cut off cannot swallow the next. The
// note stands last, so that a cut-off line with all its commas has all its
// figures. A note to which a spreadsheet has added line breaks is read as one.
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
// More columns to the right are left alone.
func accountColumns() []string {
	return []string{"date", "mold", "shots", "good", "bad", "head", "weights_g", "expected_g", "low_g", "high_g",
		"metal", "metal_mm3", "steel_g", "note"}
}

const lineEnd = "\r\n"

func accountHeader() string { return strings.Join(accountColumns(), ",") + lineEnd }

// MaxAccountBytes is some thirty thousand castings.
const MaxAccountBytes = 4 << 20

// ReadAccount reads an account. A line that cannot be taken is among its
// faults; an error means that the file is no account at all. No bytes are an
// empty account.
func ReadAccount(data []byte) (*Account, error) {
	if len(data) > MaxAccountBytes {
		return nil, fmt.Errorf("too long for an account: %d bytes, at most %d", len(data), MaxAccountBytes)
	}
	a := &Account{}
	if strings.HasPrefix(accountHeader(), string(data)) {
		return a, nil // new, or cut off in its header
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	header, body, _ := strings.Cut(text, "\n")
	if err := checkHeader(strings.TrimSuffix(header, "\r")); err != nil {
		return nil, err
	}
	for number := 2; body != ""; number++ {
		line, rest, ended := strings.Cut(body, "\n")
		lines := 1
		if ended && openQuote(line) != "" {
			line, rest, lines = joined(line, rest)
		}
		body = rest
		a.take(number, strings.TrimSuffix(line, "\r"), ended)
		number += lines - 1
	}
	return a, nil
}

// mostJoined is more lines than anyone writes into a note.
const mostJoined = 50

// joined is a line with a quote left open and those after it that belong to the
// same note, as a spreadsheet writes it; what is behind them, and how many lines
// they are. Where that makes no casting, or a line that follows is one by
// itself, the line was cut off and stays alone.
func joined(line, rest string) (whole, behind string, lines int) {
	whole, behind = strings.TrimSuffix(line, "\r"), rest
	for lines = 2; lines <= mostJoined && behind != ""; lines++ {
		var next string
		next, behind, _ = strings.Cut(behind, "\n")
		if _, err := readCasting(next); err == nil {
			break
		}
		whole += " " + strings.TrimSuffix(next, "\r")
		if openQuote(whole) != "" {
			continue
		}
		if _, err := readCasting(whole); err == nil {
			return whole, behind, lines
		}
		break
	}
	return line, rest, 1
}

// checkHeader asks for our columns, in order; others may follow.
func checkHeader(line string) error {
	columns := accountColumns()
	got, err := fieldsOf(line)
	if err == nil && len(got) >= len(columns) {
		same := true
		for i, name := range columns {
			same = same && strings.TrimSpace(got[i]) == name
		}
		if same {
			return nil
		}
	}
	switch {
	case strings.Contains(line, "date;mold;"):
		return errors.New("columns must be separated by commas, got semicolons: save it as comma-separated, with decimal points")
	case len(line) > 60:
		line = line[:60] + "..."
	}
	return fmt.Errorf("must begin with the columns %s, got %q", strings.Join(columns, ","), line)
}

// take reads one line after the header; ended says whether it has its end.
func (a *Account) take(number int, line string, ended bool) {
	if strings.Trim(line, ", \t") == "" {
		return // a spreadsheet's empty row
	}
	if !ended {
		line += openQuote(line)
	}
	c, err := readCasting(strings.ToValidUTF8(line, "\ufffd"))
	if err == nil && c.TakesBack {
		err = a.takeBack(c)
	} else if err == nil {
		a.Castings = append(a.Castings, c)
		if !ended && c.Note != "" {
			a.Faults = append(a.Faults, LineFault{Line: number, Counted: true, Err: errors.New("has no end, so its note may be cut off")})
		}
	}
	if err == nil {
		return
	}
	if !ended {
		err = fmt.Errorf("is cut off: %w", err)
	}
	a.Faults = append(a.Faults, LineFault{Line: number, Mold: c.Mold, Err: err})
}

// fieldsOf takes one line apart.
func fieldsOf(line string) ([]string, error) {
	r := csv.NewReader(strings.NewReader(line))
	r.FieldsPerRecord = -1
	fields, err := r.Read()
	var bad *csv.ParseError
	switch {
	case errors.As(err, &bad):
		return nil, fmt.Errorf("column %d: %w", bad.Column, bad.Err)
	case err == io.EOF:
		return nil, nil
	}
	return fields, err
}

func readCasting(line string) (Casting, error) {
	var c Casting
	fields, err := fieldsOf(line)
	if err != nil {
		return c, err
	}
	if want := len(accountColumns()); len(fields) < want {
		if len(fields) > 2 { // the mold's column has its end
			c.Mold, _ = strconv.Atoi(strings.TrimSpace(fields[1]))
		}
		return c, fmt.Errorf("must have %d columns, got %d", want, len(fields))
	}
	r := &fieldReader{fields: fields}
	c.Date = r.text()
	c.Mold, c.Shots, c.Good, c.Bad = r.mold(), r.count("shots"), r.count("good"), r.count("bad")
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
		return c, r.err
	}
	if len(c.Weights) == 0 {
		c.Weighing = Weighing{}
	}
	return c, c.Check()
}

// fieldReader takes fields one after another and keeps the first error.
type fieldReader struct {
	fields []string
	err    error

	minus, plus bool // figures other than mold, weights and 0 that have one and that have none
}

func (r *fieldReader) text() string {
	s := strings.TrimSpace(r.fields[0])
	r.fields = r.fields[1:]
	return s
}

func (r *fieldReader) fail(what, want, got string) {
	if r.err == nil {
		r.err = fmt.Errorf("%s must be %s, got %q", what, want, got)
	}
}

func (r *fieldReader) failAll(what string) {
	if r.err == nil {
		r.err = errors.New("figures " + what)
	}
}

// signed takes the minus off a figure.
func (r *fieldReader) signed(s string) string {
	digits, minus := strings.CutPrefix(s, "-")
	if strings.Trim(digits, "0.") != "" {
		r.minus, r.plus = r.minus || minus, r.plus || !minus
	}
	return digits
}

func (r *fieldReader) mold() int {
	s := r.text()
	n, err := strconv.Atoi(s)
	if err != nil {
		r.fail("mold", "a whole number", s)
	}
	return n
}

func (r *fieldReader) count(what string) int {
	s := r.text()
	n, err := strconv.Atoi(r.signed(s))
	if err != nil {
		r.fail(what, "a whole number", s)
	}
	return n
}

// figure is 0 for an empty field.
func (r *fieldReader) figure(what string) float64 {
	s := r.text()
	if s == "" {
		return 0
	}
	return r.number(what, r.signed(s))
}

func (r *fieldReader) number(what, s string) float64 {
	x, rest, ok := cutDecimal(s)
	if !ok || rest != "" {
		r.fail(what, "a number with a decimal point", s)
	}
	return x
}

// line is the casting as it stands in the file.
func (c Casting) line() ([]byte, error) {
	plain := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	sign := 1
	if c.TakesBack {
		sign = -1
	}
	count := func(n int) string { return strconv.Itoa(sign * n) }
	figure := func(x float64) string {
		if x == 0 {
			return "0"
		}
		return plain(float64(sign) * x)
	}
	fields := []string{c.Date, strconv.Itoa(c.Mold), count(c.Shots), count(c.Good), count(c.Bad)}
	if w := c.Weighing; len(w.Weights) > 0 {
		var weights []string
		for _, g := range w.Weights {
			weights = append(weights, plain(g))
		}
		fields = append(fields, toCell(w.Head), strings.Join(weights, " "), figure(w.Expected.Best), figure(w.Expected.Low), figure(w.Expected.High),
			toCell(w.Metal), figure(w.MetalMM3), figure(w.SteelG))
	} else {
		fields = append(fields, make([]string, 8)...)
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	if err := w.Write(append(fields, toCell(strings.ToValidUTF8(c.Note, "\ufffd")))); err != nil {
		return nil, err
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// Append returns the bytes to put behind an account's, so that the casting
// stands in it on a line of its own: before it the header of a new account, or
// the end of a line that a crash has cut off. Nothing that stands there is
// changed.
func Append(data []byte, c Casting) ([]byte, error) {
	if err := c.Check(); err != nil {
		return nil, err
	}
	if _, err := ReadAccount(data); err != nil {
		return nil, err
	}
	line, err := c.line()
	if err != nil {
		return nil, err
	}
	if rest, ok := strings.CutPrefix(accountHeader(), string(data)); ok {
		return append([]byte(rest), line...), nil
	}
	return append(missingEnd(data), line...), nil
}

// missingEnd is what ends the last line: nothing when it has its end. A quote
// left open is closed, so that a spreadsheet does not run on into what follows.
func missingEnd(data []byte) []byte {
	last := string(data[bytes.LastIndexByte(data, '\n')+1:])
	switch {
	case last == "":
		return nil
	case strings.HasSuffix(last, "\r") && openQuote(last) == "":
		return []byte("\n")
	}
	return []byte(openQuote(last) + lineEnd)
}

// openQuote closes the quote that a cut-off line leaves open, if any.
func openQuote(line string) string {
	if strings.Count(line, `"`)%2 == 1 {
		return `"`
	}
	return ""
}
