package pourplan

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"github.com/BurntSushi/toml"
)

// Bounds on the text of a job; a long one has about 5 kB. They keep the time
// and memory of reading it in proportion: the cost of a dotted or nested key
// grows with the square of its depth.
const (
	// MaxJobBytes is the length of a job file at most.
	MaxJobBytes  = 64 << 10
	maxJobLine   = 4 << 10
	maxJobDepth  = 200 // brackets open at a time
	maxJobErrors = 100 // reported
)

// ReadJob reads and checks a job file. name is for error messages only. The
// error is a JobErrors with everything that was found wrong.
// A hook, rubber or metal by its name is not known then: a usual one stands in.
func ReadJob(name string, data []byte) (*Job, error) { return ReadJobWith(name, data, nil) }

// ReadJobWith is ReadJob with the shelf, and the hooks beside the job.
func ReadJobWith(name string, data []byte, library Library) (*Job, error) {
	r := &jobReader{library: library, jobSource: &jobSource{file: name, src: strings.TrimPrefix(string(data), byteOrderMark)}}
	if err := r.plausible(); err != nil {
		return nil, JobErrors{err}
	}
	var tree map[string]any
	if _, err := toml.Decode(r.src, &tree); err != nil {
		return nil, JobErrors{r.syntax(err)}
	}
	r.places = findPlaces(r.src)
	job := Default()
	list, hasList := tree["cavity"]
	runs, hasRuns := tree["size"]
	delete(tree, "cavity")
	delete(tree, "size")
	r.table("", tree, job)
	if job.Casting.Life == nil {
		job.Casting.Life = r.life
	}
	if hasList {
		r.cavities(list, job)
		if _, also := r.places["cavities"]; also {
			r.fail("cavities", RuleConflict, "remove cavities, or the [[cavity]] tables",
				errors.New("says how many are alike, but the [[cavity]] tables already list them"))
		}
	}
	if hasRuns {
		r.sizes(runs, job)
	}
	job.source = r.jobSource
	r.check(job)
	if len(r.errs) > 0 {
		return nil, r.errs.sorted()
	}
	return job, nil
}

// jobReader fills a Job from a TOML tree and collects what is wrong.
type jobReader struct {
	*jobSource
	library Library    // nil: none
	life    *ShotRange // of a mold, by the rubber on the shelf
	errs    JobErrors
}

// plausible refuses text that no person wrote as a job.
func (r *jobReader) plausible() *JobError {
	e := &JobError{File: r.file, Rule: RuleSyntax, Hint: "name the job file, not a mesh or a picture"}
	if len(r.src) > MaxJobBytes {
		e.Err = fmt.Errorf("too long for a job file: more than %d bytes", MaxJobBytes)
		return e
	}
	start, depth := 0, 0
	for i := range len(r.src) {
		switch r.src[i] {
		case '\n':
			start = i + 1
		case '[', '{':
			depth++
		case ']', '}':
			depth = max(0, depth-1)
		}
		switch {
		case i-start >= maxJobLine:
			e.Err = fmt.Errorf("line too long for a job file: at most %d bytes", maxJobLine)
		case depth > maxJobDepth:
			e.Err = fmt.Errorf("nested too deep for a job file: at most %d brackets open", maxJobDepth)
		default:
			continue
		}
		e.Line, e.Col = 1+strings.Count(r.src[:i], "\n"), 1
		return e
	}
	return nil
}

// syntax turns a decoder's error into one of ours.
func (r *jobReader) syntax(err error) *JobError {
	e := &JobError{File: r.file, Rule: RuleSyntax, Hint: "write key = value or [table] on each line; put text in quotes", Err: err}
	var p toml.ParseError
	if errors.As(err, &p) {
		e.Err = errors.New(lowerFirst(p.Message))
		if strings.HasPrefix(p.Message, "expected a top-level item to end") && strings.Contains(p.Message, "got ','") {
			e.Hint = "the decimal sign is a point; " + e.Hint
		}
		start := min(max(0, p.Position.Start), len(r.src))
		e.pointAt(r.src, extent{start, start + max(1, p.Position.Len)})
	}
	return e
}

func lowerFirst(s string) string {
	rs := []rune(s)
	if len(rs) > 1 && unicode.IsUpper(rs[0]) && unicode.IsLower(rs[1]) {
		rs[0] = unicode.ToLower(rs[0])
	}
	return string(rs)
}

// fail notes an error at the value of a key.
func (r *jobReader) fail(key, rule, hint string, err error) {
	r.failAt(key, rule, hint, err, valueOf)
}

func (r *jobReader) failAt(key, rule, hint string, err error, part func(place) extent) {
	if len(r.errs) < maxJobErrors {
		r.errs = append(r.errs, r.blame(key, rule, hint, err, part))
	}
}
