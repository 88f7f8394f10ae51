package pourplan

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// growing is the form of a CSV file by RFC 4180 that only grows, to open in a
// spreadsheet: a header, then a line for each record, in the order in which they
// were made. Every line ends in CR LF. No field that is written here holds a line
// break, so that a line is a record: one that a crash has cut off cannot swallow the
// next. The last column is a note, so that a cut-off line with all its commas has
// all its figures. A note to which a spreadsheet has added line breaks is read as one.
//
// A spreadsheet may have saved the file its own way: with a byte order mark, other
// line ends, quotes, semicolons or tabs, columns in another order or more of them.
// What is added then stands in the file's own form.
type growing struct {
	what    string // for messages
	columns []string
}

// maxGrowingBytes is some thirty thousand records.
const maxGrowingBytes = 4 << 20

const lineEnd = "\r\n"

func (g growing) header() string { return strings.Join(g.columns, ",") + lineEnd }

// csvLayout is how one such file has its columns.
type csvLayout struct {
	separator rune
	at        []int // of each column of ours, its place in a line
	width     int   // columns of the file
}

// open takes the header off a file. One that is new, or cut off in its header, is
// laid out as written here and has no body.
func (g growing) open(data []byte) (l csvLayout, body string, err error) {
	if len(data) > maxGrowingBytes {
		return l, "", fmt.Errorf("too long for %s: %d bytes, at most %d", g.what, len(data), maxGrowingBytes)
	}
	text := strings.TrimPrefix(string(data), byteOrderMark)
	head, body, _ := cutLine(text)
	if strings.HasPrefix(g.header(), string(data)) {
		head, body = strings.TrimSuffix(g.header(), lineEnd), ""
	}
	for _, l.separator = range ",;\t" {
		fields, err := fieldsOf(head, l.separator)
		l.at, l.width = nil, len(fields)
		for i := range fields {
			fields[i] = strings.ToLower(strings.TrimSpace(fields[i]))
		}
		for _, name := range g.columns {
			if i := slices.Index(fields, name); i >= 0 && err == nil && !slices.Contains(fields[i+1:], name) {
				l.at = append(l.at, i)
			}
		}
		if len(l.at) == len(g.columns) {
			return l, body, nil
		}
	}
	if len(head) > 60 {
		head = head[:60] + "..."
	}
	return l, "", fmt.Errorf("must begin with the columns %s, got %q", strings.Join(g.columns, ","), head)
}

// fields takes one line apart, in the order of our columns. Of a line that is too
// short it returns what is there beside the error.
func (l csvLayout) fields(line string) ([]string, error) {
	got, err := fieldsOf(line, l.separator)
	if err != nil {
		return nil, err
	}
	list := make([]string, len(l.at))
	need := 1 + slices.Max(l.at)
	for i, at := range l.at {
		if at < len(got) {
			list[i] = got[at]
		}
	}
	if len(got) < need {
		return list, fmt.Errorf("must have %d columns, got %d", need, len(got))
	}
	return list, nil
}

// fieldsOf takes one line apart, as it stands there.
func fieldsOf(line string, separator rune) ([]string, error) {
	r := csv.NewReader(strings.NewReader(line))
	r.FieldsPerRecord, r.Comma = -1, separator
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

// cutLine takes the first line off a text; ended says whether it has its end.
func cutLine(text string) (line, rest string, ended bool) {
	i := strings.IndexAny(text, "\r\n")
	if i < 0 {
		return text, "", false
	}
	end := i + 1
	if strings.HasPrefix(text[i:], lineEnd) {
		end++
	}
	return text[:i], text[end:], true
}

// each calls take with every line behind the header; ended says whether the line has
// its end. reads says whether a line makes a record by itself. The last line reads as
// it will when the next one has been added.
func (l csvLayout) each(body string, reads func(line string) bool, take func(number int, line string, ended bool)) {
	end := string(missingEnd([]byte(body)))
	body += end
	for number := 2; body != ""; number++ {
		line, rest, _ := cutLine(body)
		lines := 1
		if openQuote(line) != "" {
			line, rest, lines = joined(line, rest, reads)
		}
		body = rest
		if strings.Trim(line, ",; \t") != "" { // no empty row of a spreadsheet's
			take(number, strings.ToValidUTF8(line, "\ufffd"), rest != "" || end == "" || end == "\n")
		}
		number += lines - 1
	}
}

// mostJoined is more lines than anyone writes into a note.
const mostJoined = 50

// joined is a line with a quote left open and those after it that belong to the
// same note, as a spreadsheet writes it; what is behind them, and how many lines
// they are. Where that makes no record, or a line that follows is one by
// itself, the line was cut off and stays alone.
func joined(line, rest string, reads func(line string) bool) (whole, behind string, lines int) {
	whole, behind = line, rest
	for lines = 2; lines <= mostJoined && behind != ""; lines++ {
		var next string
		next, behind, _ = cutLine(behind)
		if reads(next) {
			break
		}
		whole += " " + next
		if openQuote(whole) != "" {
			continue
		}
		if reads(whole) {
			return whole, behind, lines
		}
		break
	}
	return line, rest, 1
}

// add returns the bytes to put behind a file's, so that a record stands in it on a
// line of its own, its fields in the order of our columns: before it the header of
// a new file, or the end of a line that a crash has cut off. Nothing that stands
// there is changed.
func (g growing) add(data []byte, fields []string) ([]byte, error) {
	l, _, err := g.open(data)
	if err != nil {
		return nil, err
	}
	row := make([]string, l.width)
	for i, at := range l.at {
		row[at] = strings.ToValidUTF8(fields[i], "\ufffd")
	}
	var b bytes.Buffer
	if rest, ok := strings.CutPrefix(g.header(), string(data)); ok {
		b.WriteString(rest)
	} else {
		b.Write(missingEnd(data))
	}
	w := csv.NewWriter(&b)
	w.UseCRLF, w.Comma = true, l.separator
	if err := w.Write(row); err != nil {
		return nil, err
	}
	w.Flush()
	return b.Bytes(), w.Error()
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
