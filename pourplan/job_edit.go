package pourplan

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// ErrNoEdit says that a text cannot be changed at a key without touching more
// than that key: it has to be changed by hand.
var ErrNoEdit = errors.New("cannot be changed without touching its neighbours; change it in the file")

// ErrNoValue says that what should be a key's value is none in TOML.
var ErrNoValue = errors.New("is no value; put text in quotes")

// byteOrderMark is what some editors begin a file with.
const byteOrderMark = "\ufeff"

// keyPath is how a path of a key is written.
var keyPath = regexp.MustCompile(`^[\w-]+(\[\d+\])?(\.[\w-]+(\[\d+\])?)*$`)

// ErrNoTOML says that the text has to be mended by hand first.
var ErrNoTOML = errors.New("the job file cannot be read; mend it first")

func isTOML(src string) bool {
	var tree map[string]any
	_, err := toml.Decode(src, &tree)
	return err == nil
}

// SetKey returns the text of a job with a value, in TOML, at the key of a path
// such as "hook.wire" or "cavity[1].name". Only the value's characters change.
// A key that the text does not have takes the place of the remark that shows
// it ("# wire = 1.1"), else it comes last in its table, which is added where
// there is none. It fails with ErrNoTOML, ErrNoValue and ErrNoEdit.
func SetKey(src, path, value string) (string, error) {
	if rest, marked := strings.CutPrefix(src, byteOrderMark); marked {
		text, err := SetKey(rest, path, value)
		return byteOrderMark + text, err
	}
	value = strings.TrimSpace(value)
	if !isTOML(src) {
		return "", fmt.Errorf("%s: %w", path, ErrNoTOML)
	}
	if !keyPath.MatchString(path) {
		return "", fmt.Errorf("%s: %w", path, ErrNoEdit)
	}
	places := findPlaces(src)
	var text string
	if p, ok := places[path]; ok && p.key != p.value {
		text = src[:p.value.from] + value + src[p.value.to:]
	} else if ok {
		return "", fmt.Errorf("%s: %w", path, ErrNoEdit)
	} else {
		text = insertKey(src, path, value)
	}
	return text, onlyKey(src, text, path, value)
}

// SetItem returns the text of a job with a value, in TOML, as an item of the list
// at a path, from 0; as one more where i is how many there are. Only the item's
// characters change. It fails as SetKey does.
func SetItem(src, path string, i int, value string) (string, error) {
	if rest, marked := strings.CutPrefix(src, byteOrderMark); marked {
		text, err := SetItem(rest, path, i, value)
		return byteOrderMark + text, err
	}
	if !isTOML(src) {
		return "", fmt.Errorf("%s: %w", path, ErrNoTOML)
	}
	places := findPlaces(src)
	list, ok := places[path]
	if !ok && i == 0 {
		return SetKey(src, path, "["+value+"]")
	}
	if !ok || list.key == list.value || src[list.value.from] != '[' {
		return "", fmt.Errorf("%s: %w", path, ErrNoEdit)
	}
	at := extent{list.value.from + 1, list.value.from + 1}
	if item, there := places[fmt.Sprintf("%s[%d]", path, i)]; there {
		at = item.value
	} else if last, there := places[fmt.Sprintf("%s[%d]", path, i-1)]; there {
		at = extent{last.value.to, last.value.to}
		value = ", " + value
	} else if i != 0 {
		return "", fmt.Errorf("%s: %w", path, ErrNoEdit)
	}
	text := src[:at.from] + value + src[at.to:]
	return text, onlyKey(src, text, path, text[list.value.from:list.value.to+len(text)-len(src)])
}

// DropKey returns the text of a job with the line of a key turned into a
// remark, so that what leaving it out means holds. It fails with ErrNoTOML, and
// with ErrNoEdit where the key shares its lines.
func DropKey(src, path string) (string, error) {
	if rest, marked := strings.CutPrefix(src, byteOrderMark); marked {
		text, err := DropKey(rest, path)
		return byteOrderMark + text, err
	}
	if !isTOML(src) {
		return "", fmt.Errorf("%s: %w", path, ErrNoTOML)
	}
	p, ok := findPlaces(src)[path]
	if !ok {
		return src, nil
	}
	from := strings.LastIndexByte(src[:p.key.from], '\n') + 1
	if strings.TrimSpace(src[from:p.key.from]) != "" || p.key == p.value {
		return "", fmt.Errorf("%s: %w", path, ErrNoEdit)
	}
	lines := strings.ReplaceAll(src[p.key.from:p.value.to], "\n", "\n# ")
	text := src[:p.key.from] + "# " + lines + src[p.value.to:]
	return text, onlyKey(src, text, path, "")
}

// insertKey puts a key that is not there into its table, or into the nearest
// table around that which has a head: as hook.wire under [[cavity]].
func insertKey(src, path, value string) string {
	s := scan(src)
	table := path
	for {
		table = parentOf(table)
		if table == "" || slices.ContainsFunc(s.heads, func(h tableHead) bool { return h.table == table }) {
			break
		}
		if parentOf(table) == "" && !strings.Contains(table, "[") && !s.has(table) {
			name := path[len(table)+1:]
			return endLine(src) + newLine(src) + "[" + table + "]" + newLine(src) + name + " = " + value + newLine(src)
		}
	}
	name := strings.TrimPrefix(path[len(table):], ".")
	from, to := s.extentOf(table)
	if start, end, ok := remarkOf(src, name, from, to); ok {
		return src[:start] + name + " = " + value + src[end:]
	}
	at := from
	for _, p := range s.places {
		if p.value.from >= from && p.value.to <= to {
			at = max(at, p.value.to)
		}
	}
	if at == 0 {
		return name + " = " + value + newLine(src) + src
	}
	at += len(restOfLine(src[at:]))
	return src[:at] + newLine(src) + name + " = " + value + src[at:]
}

// has reports whether a table is there, be it without a head.
func (s *scanner) has(table string) bool {
	_, ok := s.places[table]
	return ok
}

// extentOf is where the keys of a table stand: from its head to the next one.
func (s *scanner) extentOf(table string) (from, to int) {
	for _, h := range s.heads {
		if h.table == table {
			from = h.to
		}
	}
	to = len(s.src)
	for _, h := range s.heads {
		if h.from >= from {
			to = min(to, h.from)
		}
	}
	return from, to
}

// remarkOf finds the remark that shows a key, "# wire = 1.1", up to where its
// value ends.
func remarkOf(src, name string, from, to int) (start, end int, ok bool) {
	at := regexp.MustCompile(`(?m)^[ \t]*(#[ \t]?` + regexp.QuoteMeta(name) + `[ \t]*=[ \t]*)`).FindStringSubmatchIndex(src[from:to])
	if at == nil {
		return 0, 0, false
	}
	start, value := from+at[2], from+at[3]
	line := src[value : value+len(restOfLine(src[value:]))]
	s := &scanner{src: line, tables: map[string]int{}, places: map[string]place{}}
	s.value("")
	return start, value + s.pos, s.pos > 0
}

// restOfLine is what stands before the end of a line.
func restOfLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return strings.TrimSuffix(line, "\r")
}

// newLine is how the text ends its lines.
func newLine(src string) string {
	if strings.Contains(src, "\r\n") {
		return "\r\n"
	}
	return "\n"
}

// endLine ends the last line.
func endLine(src string) string {
	if src == "" || strings.HasSuffix(src, "\n") {
		return src
	}
	return src + newLine(src)
}

// onlyKey makes sure that an edit did what it should: the text is TOML, the key
// has the value, "" for none, and all other keys have what they had.
func onlyKey(src, text, path, value string) error {
	if !isTOML(text) {
		return fmt.Errorf("%s = %s: %w", path, value, ErrNoValue)
	}
	before, after := valuesOf(src), valuesOf(text)
	if got, ok := after[path]; ok != (value != "") || got != value {
		return fmt.Errorf("%s: %w", path, ErrNoEdit)
	}
	delete(before, path)
	delete(after, path)
	for key, was := range before {
		if !partOf(key, path) && !partOf(path, key) && after[key] != was {
			return fmt.Errorf("%s: %w", path, ErrNoEdit)
		}
	}
	for key := range after {
		if _, had := before[key]; !had && !partOf(key, path) && !partOf(path, key) {
			return fmt.Errorf("%s: %w", path, ErrNoEdit)
		}
	}
	return nil
}

// partOf reports whether a key is in the value of another.
func partOf(key, of string) bool {
	return strings.HasPrefix(key, of+".") || strings.HasPrefix(key, of+"[")
}

// KeyTexts are the values in a job's text as they are written there, by the
// paths of their keys: "hook.wire", "cavity[1].name", and the tables that have
// a head, with "" for a value.
func KeyTexts(src string) map[string]string {
	src = strings.TrimPrefix(src, byteOrderMark)
	s := scan(src)
	texts := valuesOf(src)
	for _, h := range s.heads {
		texts[h.table] = ""
	}
	return texts
}

// valuesOf are the values of a text by their keys' paths, without those of
// tables.
func valuesOf(src string) map[string]string {
	values := map[string]string{}
	for path, p := range findPlaces(src) {
		if p.key != p.value {
			values[path] = src[p.value.from:p.value.to]
		}
	}
	return values
}
