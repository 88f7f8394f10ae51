package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"halfpour/pourplan"
)

// figure is a number of the plan as the page shows it: its place in plan.json,
// its value as it stands there, and the text for people.
type figure struct {
	Path, Value, Text string
}

// figures are all numbers of a plan by their place in plan.json, with points
// between keys and indices: "rubber.halves.0.a_g". The same document gives
// what is shown and what is listed, so that they cannot differ.
type figures struct {
	values map[string]string
	list   []listed // everything, in the order of the document
	err    error    // the first figure that was asked for and is not there
}

// listed is a line of the whole document.
type listed struct {
	Path  string
	Value string
	Text  bool // not a number
}

func newFigures(p *pourplan.Plan) (*figures, error) {
	data, err := p.JSON()
	if err != nil {
		return nil, err
	}
	f := &figures{values: map[string]string{}}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	return f, f.walk(d, "")
}

// walk reads one value of the document; token by token, since a map would lose
// the order.
func (f *figures) walk(d *json.Decoder, path string) error {
	token, err := d.Token()
	if err != nil {
		return err
	}
	switch v := token.(type) {
	case json.Delim:
		return f.walkInto(d, path, v)
	case json.Number:
		f.values[path] = v.String()
		f.list = append(f.list, listed{Path: path, Value: v.String()})
	case nil:
	default:
		f.list = append(f.list, listed{Path: path, Value: fmt.Sprint(v), Text: true})
	}
	return nil
}

func (f *figures) walkInto(d *json.Decoder, path string, open json.Delim) error {
	inside := func(key string) string { return strings.TrimPrefix(path+"."+key, ".") }
	for i := 0; d.More(); i++ {
		key := strconv.Itoa(i)
		if open == '{' {
			token, err := d.Token()
			if err != nil {
				return err
			}
			key = fmt.Sprint(token)
		}
		if err := f.walk(d, inside(key)); err != nil {
			return err
		}
	}
	_, err := d.Token()
	return err
}

// show is the figure at a path, written by format.
func (f *figures) show(path string, format func(float64) string) figure {
	value, ok := f.values[path]
	x, err := strconv.ParseFloat(value, 64)
	if (!ok || err != nil) && f.err == nil {
		f.err = fmt.Errorf("the plan has no figure %s", path)
	}
	return figure{path, value, format(x)}
}

// has reports whether a figure is there and not 0.
func (f *figures) has(path string) bool {
	x, err := strconv.ParseFloat(f.values[path], 64)
	return err == nil && x != 0
}
