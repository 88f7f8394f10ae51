package pourplan

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// place is where a key stands in a job's text, in bytes: the last part of its
// name, and its value (for a table, the header).
type place struct{ key, value extent }

type extent struct{ from, to int }

// scanner finds the places of keys in TOML that a decoder has accepted. The
// decoder tells no places of keys that it does not know, and of repeated
// tables only the last.
type scanner struct {
	src    string
	pos    int
	tables map[string]int // [[name]] seen so far
	places map[string]place
	heads  []tableHead
}

// tableHead is a line [table] or [[table]].
type tableHead struct {
	table string // its path
	extent
}

// findPlaces returns the place of every key by its path, such as
// "cavity[2].hook.wire". On text that is no TOML it finds less, never fails.
func findPlaces(src string) map[string]place { return scan(src).places }

func scan(src string) *scanner {
	s := &scanner{src: src, tables: map[string]int{}, places: map[string]place{}}
	table := ""
	for s.skipBlank(); s.pos < len(s.src); s.skipBlank() {
		start := s.pos
		if s.src[s.pos] == '[' {
			table = s.header()
		} else {
			s.pair(table)
		}
		if s.pos == start {
			s.pos++
		}
	}
	return s
}

func (s *scanner) at(c byte) bool { return s.pos < len(s.src) && s.src[s.pos] == c }

func (s *scanner) skipSpace() {
	for s.at(' ') || s.at('\t') {
		s.pos++
	}
}

// skipBlank skips space, ends of lines and comments.
func (s *scanner) skipBlank() {
	for s.pos < len(s.src) {
		switch s.src[s.pos] {
		case ' ', '\t', '\r', '\n':
			s.pos++
		case '#':
			s.skipUntil("\n")
		default:
			return
		}
	}
}

// skipUntil goes to the first of the given characters or the end.
func (s *scanner) skipUntil(stop string) {
	if i := strings.IndexAny(s.src[s.pos:], stop); i >= 0 {
		s.pos += i
		return
	}
	s.pos = len(s.src)
}

// header reads [name] or [[name]] and returns its path.
func (s *scanner) header() string {
	start := s.pos
	list := strings.HasPrefix(s.src[s.pos:], "[[")
	s.pos++
	if list {
		s.pos++
	}
	parts := s.key()
	s.skipUntil("]\n")
	for s.at(']') {
		s.pos++
	}
	path := ""
	for i, part := range parts {
		path = join(path, part.name)
		if i == len(parts)-1 && list {
			s.tables[path]++
		}
		if n := s.tables[path]; n > 0 {
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
		s.pass(path, part)
	}
	whole := extent{start, s.pos}
	s.places[path] = place{whole, whole}
	s.heads = append(s.heads, tableHead{path, whole})
	return path
}

// pair reads key = value in the table of the given path.
func (s *scanner) pair(table string) {
	parts := s.key()
	s.skipSpace()
	if len(parts) == 0 || !s.at('=') {
		s.skipUntil("\n")
		return
	}
	s.pos++
	s.skipSpace()
	path := table
	for _, part := range parts {
		path = join(path, part.name)
		s.pass(path, part)
	}
	start := s.pos
	s.value(path)
	s.places[path] = place{parts[len(parts)-1].extent, extent{start, s.pos}}
}

// keyPart is a part of a dotted key.
type keyPart struct {
	name string
	extent
}

// pass notes a part of a dotted key, for an error of the table that it names
// and that has no line of its own.
func (s *scanner) pass(path string, part keyPart) {
	if _, known := s.places[path]; !known {
		s.places[path] = place{part.extent, part.extent}
	}
}

// key reads a dotted key.
func (s *scanner) key() (parts []keyPart) {
	for {
		s.skipSpace()
		start := s.pos
		switch {
		case s.at('"') || s.at('\''):
			s.text()
			parts = append(parts, keyPart{strings.Trim(s.src[start:s.pos], `"'`), extent{start, s.pos}})
		default:
			for s.pos < len(s.src) && bareKey(s.src[s.pos]) {
				s.pos++
			}
			if s.pos == start {
				return parts
			}
			parts = append(parts, keyPart{s.src[start:s.pos], extent{start, s.pos}})
		}
		s.skipSpace()
		if !s.at('.') {
			return parts
		}
		s.pos++
	}
}

func bareKey(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c == '-'
}

// value skips a value and notes the keys of the tables in it.
func (s *scanner) value(path string) {
	if s.pos >= len(s.src) {
		return
	}
	switch s.src[s.pos] {
	case '"', '\'':
		s.text()
	case '[':
		s.items(']', func(i int) {
			item, start := path, s.pos
			if len(path) <= 500 {
				item = fmt.Sprintf("%s[%d]", path, i)
			}
			s.value(item)
			s.places[item] = place{extent{start, s.pos}, extent{start, s.pos}}
		})
	case '{':
		s.items('}', func(int) { s.pair(path) })
	default:
		start := s.pos
		s.skipUntil(",]}#\r\n")
		s.pos = start + len(strings.TrimRight(s.src[start:s.pos], " \t"))
	}
}

// items reads what is between brackets.
func (s *scanner) items(closing byte, item func(i int)) {
	s.pos++
	for i := 0; ; i++ {
		s.skipBlank()
		if s.pos >= len(s.src) || s.at(closing) {
			s.pos = min(s.pos+1, len(s.src))
			return
		}
		start := s.pos
		item(i)
		s.skipBlank()
		if s.at(',') {
			s.pos++
		}
		if s.pos == start {
			s.pos++
		}
	}
}

// text skips a string of any of the four kinds.
func (s *scanner) text() {
	quote := s.src[s.pos : s.pos+1]
	if long := strings.Repeat(quote, 3); strings.HasPrefix(s.src[s.pos:], long) {
		quote = long
	}
	for s.pos += len(quote); s.pos < len(s.src); s.pos++ {
		switch {
		case quote[0] == '"' && s.at('\\'):
			s.pos++
		case strings.HasPrefix(s.src[s.pos:], quote):
			s.pos += len(quote)
			// Up to two quotes may stand before the closing three.
			for len(quote) == 3 && s.at(quote[0]) {
				s.pos++
			}
			return
		}
	}
	s.pos = min(s.pos, len(s.src))
}

// join names a key of the table at path. A path of absurd length grows no
// further, so that deep nesting costs no more than its bytes.
func join(path, key string) string {
	switch {
	case path == "":
		return key
	case len(path) > 500:
		return path
	}
	return path + "." + key
}

// pointAt fills in line, column and the lines to show for an extent of src.
func (e *JobError) pointAt(src string, x extent) {
	lines := strings.Split(src, "\n")
	row, start := 0, 0
	for row < len(lines)-1 && start+len(lines[row]) < x.from {
		start += len(lines[row]) + 1
		row++
	}
	e.text = strings.TrimSuffix(lines[row], "\r")
	if row > 0 {
		e.above = strings.TrimSuffix(lines[row-1], "\r")
	}
	from := min(max(0, x.from-start), len(e.text))
	to := min(max(from, x.to-start), len(e.text))
	e.Line = row + 1
	e.Col = 1 + utf8.RuneCountInString(e.text[:from])
	e.width = utf8.RuneCountInString(e.text[from:to])
}
