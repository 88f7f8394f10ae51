package pourplan

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// fieldReader takes fields one after another and keeps the first error.
type fieldReader struct {
	fields []string
	err    error
	comma  bool  // the decimal sign may be a comma: it separates no fields
	notice error // what the record counts with all the same

	minus, plus bool // figures other than 0 that have one and that have none
}

// reader takes the fields of a line one after another.
func (l csvLayout) reader(fields []string) *fieldReader {
	return &fieldReader{fields: fields, comma: l.separator != ','}
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

// day reads a day, which a spreadsheet may have written its own way: 31.1.2026,
// 1/31/2026. Where day and month may be either, it is the earlier of the two.
func (r *fieldReader) day() string {
	s := r.text()
	if _, err := time.Parse(time.DateOnly, s); err == nil {
		return s
	}
	if d, err := time.Parse("2.1.2006", s); err == nil {
		return d.Format(time.DateOnly)
	}
	us, usErr := time.Parse("1/2/2006", s)
	other, otherErr := time.Parse("2/1/2006", s)
	switch {
	case usErr != nil && otherErr != nil:
		return s // for the record's own check
	case usErr != nil:
		us = other
	case otherErr == nil && !us.Equal(other):
		if other.Before(us) {
			us = other
		}
		r.notice = fmt.Errorf("date %q may be day or month first: taken as the earlier, %s; write it as 2026-01-31", s, us.Format(time.DateOnly))
	}
	return us.Format(time.DateOnly)
}

// signed takes the minus off a figure.
func (r *fieldReader) signed(s string) string {
	digits, minus := strings.CutPrefix(s, "-")
	if strings.Trim(digits, "0.,") != "" {
		r.minus, r.plus = r.minus || minus, r.plus || !minus
	}
	return digits
}

// whole is a whole number without a sign.
func (r *fieldReader) whole(what string) int {
	s := r.text()
	n, err := strconv.Atoi(s)
	if err != nil {
		r.fail(what, "a whole number", s)
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
	if r.comma && strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	x, rest, ok := cutDecimal(s)
	if !ok || rest != "" {
		r.fail(what, "a number with a decimal point", s)
	}
	return x
}

// plainFigure is a figure as such a file has it.
func plainFigure(x float64) string {
	if x == 0 {
		return "0"
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}
