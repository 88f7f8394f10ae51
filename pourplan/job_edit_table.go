package pourplan

import (
	"fmt"
	"maps"
	"regexp"
	"strconv"
	"strings"
)

// AddTable returns the text of a job with one more table [[name]] at its end.
func AddTable(src, name string) string {
	return endLine(src) + newLine(src) + "[[" + name + "]]" + newLine(src)
}

// DropTable returns the text of a job without a table that it has several of, by
// its path: "keeper[1]". Its lines go, with the tables in it; remarks stay, also
// those behind a value. It fails with ErrNoTOML, and with ErrNoEdit where the table
// has no head of its own.
func DropTable(src, path string) (string, error) {
	if rest, marked := strings.CutPrefix(src, byteOrderMark); marked {
		text, err := DropTable(rest, path)
		return byteOrderMark + text, err
	}
	if !isTOML(src) {
		return "", fmt.Errorf("%s: %w", path, ErrNoTOML)
	}
	s := scan(src)
	var gone []extent
	within := func(table string) bool { return table == path || partOf(table, path) }
	for _, h := range s.heads {
		if within(h.table) {
			gone = append(gone, h.extent)
		}
	}
	if _, listed := indexOf(path); !listed || len(gone) == 0 {
		return "", fmt.Errorf("%s: %w", path, ErrNoEdit)
	}
	for key, p := range s.places {
		if p.key != p.value && partOf(key, path) && !s.inValue(key, path) {
			gone = append(gone, extent{p.key.from, p.value.to})
		}
	}
	text := withoutLines(src, gone)
	return text, onlyTable(src, text, path)
}

// inValue reports whether a key below a table stands in the value of another key.
func (s *scanner) inValue(key, table string) bool {
	for at := parentOf(key); partOf(at, table); at = parentOf(at) {
		if p, ok := s.places[at]; ok && p.key != p.value {
			return true
		}
	}
	return false
}

// withoutLines cuts stretches out of a text, with their lines where nothing else
// but a remark stands there; that stays, on its own.
func withoutLines(src string, gone []extent) string {
	drop := make([]bool, len(src))
	for _, x := range gone {
		from, to := strings.LastIndexByte(src[:x.from], '\n')+1, x.to
		rest := restOfLine(src[to:])
		if blank := strings.TrimLeft(rest, " \t"); strings.TrimSpace(src[from:x.from]) == "" {
			to += len(rest) - len(blank)
			if blank == "" {
				to = min(len(src), to+len(src[to:])-len(strings.TrimPrefix(strings.TrimPrefix(src[to:], "\r"), "\n")))
			}
		} else {
			from = x.from
		}
		for i := from; i < to; i++ {
			drop[i] = true
		}
	}
	var out strings.Builder
	for i := range len(src) {
		if !drop[i] {
			out.WriteByte(src[i])
		}
	}
	return out.String()
}

var tableIndex = regexp.MustCompile(`^(.*)\[(\d+)\]$`)

// indexOf is which of its list a table is.
func indexOf(path string) (int, bool) {
	m := tableIndex.FindStringSubmatch(path)
	if m == nil {
		return 0, false
	}
	n, err := strconv.Atoi(m[2])
	return n, err == nil
}

// onlyTable makes sure that a text has lost one table and nothing else: those behind
// it have moved up.
func onlyTable(src, text, path string) error {
	n, _ := indexOf(path)
	list := tableIndex.FindStringSubmatch(path)[1]
	want := map[string]string{}
	for key, value := range valuesOf(src) {
		if partOf(key, path) {
			continue
		}
		if rest, ok := strings.CutPrefix(key, list+"["); ok {
			number, tail, _ := strings.Cut(rest, "]")
			if k, err := strconv.Atoi(number); err == nil && k > n {
				key = fmt.Sprintf("%s[%d]%s", list, k-1, tail)
			}
		}
		want[key] = value
	}
	if !isTOML(text) || !maps.Equal(want, valuesOf(text)) {
		return fmt.Errorf("%s: %w", path, ErrNoEdit)
	}
	return nil
}
