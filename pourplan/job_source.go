package pourplan

import "strings"

// jobSource is the text of a job, to point into.
type jobSource struct {
	file, src string
	places    map[string]place
	owners    []string // of each cavity, the table that says what is its own; empty when none does
	table     string   // of the size that the job is for, "" for none
}

// blame makes an error at a key, or, when the key is not in the file, at the
// nearest table around it that is. part says what of the place to underline.
func (s *jobSource) blame(key, rule, hint string, err error, part func(place) extent) *JobError {
	e := &JobError{File: s.file, Key: key, Rule: rule, Hint: hint, Err: err}
	for path := key; path != ""; path = parentOf(path) {
		p, ok := s.places[path]
		if !ok {
			p, ok = s.places[path+"[0]"] // a list of tables begins with its first
		}
		if ok {
			e.pointAt(s.src, part(p))
			break
		}
	}
	return e
}

func valueOf(p place) extent { return p.value }

// parentOf cuts the last part off a path: "cavity[1].hook" -> "cavity[1]" -> "".
func parentOf(path string) string {
	return path[:max(0, strings.LastIndexByte(path, '.'))]
}

// path is where a key of the job stands: in the size's table when the file has
// it there.
func (s *jobSource) path(key string) string {
	if s.table != "" {
		if _, ok := s.places[s.table+"."+key]; ok {
			return s.table + "." + key
		}
	}
	return key
}

// cavityPath is where a key of cavity i stands: in its own table when the file
// has it there, else in the job's.
func (s *jobSource) cavityPath(i int, key string) string {
	if i >= len(s.owners) {
		return key
	}
	own := s.owners[i] + "." + key
	if _, ok := s.places[own]; ok {
		return own
	}
	if short := s.owners[i] + ".target"; key == "weight.target" {
		if _, ok := s.places[short]; ok {
			return short
		}
	}
	return key
}
