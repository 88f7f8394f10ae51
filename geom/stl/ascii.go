package stl

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"

	"halfpour/geom"
	"halfpour/geom/internal/meshtext"
)

// decodeASCII reads
//
//	solid NAME
//	  facet normal X Y Z
//	    outer loop
//	      vertex X Y Z   (three times)
//	    endloop
//	  endfacet           (any number of facets)
//	endsolid NAME        (any number of solids)
//
// in any case, with any blanks and line ends between the words. What follows
// "solid" and "endsolid" on their line is a name.
func decodeASCII(ctx context.Context, data []byte) (*geom.TriMesh, Info, error) {
	b := newBuilder(ctx, ASCII)
	s := &scanner{data: bytes.TrimPrefix(data, []byte("\ufeff")), line: 1}
	for {
		if err := s.solid(b); err != nil {
			return nil, Info{}, err
		}
		before := *s
		word := s.next()
		if len(word) == 0 {
			break
		}
		*s = before
		if !is(word, "solid") {
			s.skipBlanks()
			b.note("%d bytes after the last endsolid ignored, from line %d", len(s.data)-s.at, s.line)
			break
		}
	}
	m, ok := b.mesh()
	if !ok {
		return nil, Info{}, s.fail(RuleNoTriangles, "there are no facets with three different corners")
	}
	return m, b.info, nil
}

// scanner walks over the words of a text file.
type scanner struct {
	data []byte
	at   int
	line int // of the word last returned
}

func (s *scanner) fail(rule Rule, format string, args ...any) error {
	return &FormatError{Line: s.line, Rule: rule, Detail: fmt.Sprintf(format, args...)}
}

func isBlank(c byte) bool { return c == ' ' || c-'\t' <= '\r'-'\t' }

// skipBlanks counts lines ended by LF, CR LF or CR.
func (s *scanner) skipBlanks() {
	for s.at < len(s.data) && isBlank(s.data[s.at]) {
		c := s.data[s.at]
		s.at++
		if c == '\r' && s.at < len(s.data) && s.data[s.at] == '\n' {
			s.at++
		}
		if c == '\n' || c == '\r' {
			s.line++
		}
	}
}

// next returns the next word, nil at the end.
func (s *scanner) next() []byte {
	s.skipBlanks()
	from := s.at
	for s.at < len(s.data) && !isBlank(s.data[s.at]) {
		s.at++
	}
	return s.data[from:s.at]
}

// restOfLine returns what is left of the line.
func (s *scanner) restOfLine() []byte {
	from := s.at
	for s.at < len(s.data) && s.data[s.at] != '\n' && s.data[s.at] != '\r' {
		s.at++
	}
	return s.data[from:s.at]
}

// is compares without regard to case.
func is(word []byte, keyword string) bool {
	return len(word) == len(keyword) && strings.EqualFold(string(word), keyword)
}

// expect takes the keywords in turn or says what stands there instead.
func (s *scanner) expect(keywords ...string) error {
	for _, k := range keywords {
		if word := s.next(); !is(word, k) {
			return s.unexpected(word, k)
		}
	}
	return nil
}

func (s *scanner) unexpected(word []byte, wanted string) error {
	if len(word) == 0 {
		return s.fail(RuleShort, "the file is cut short: it ends where %q should be; export it again", wanted)
	}
	return s.fail(RuleKeyword, "expected %q, got %s", wanted, meshtext.Quote(word))
}

func (s *scanner) solid(b *builder) error {
	if err := s.expect("solid"); err != nil {
		return err
	}
	name := meshtext.Name(s.restOfLine())
	if b.info.Solids++; b.info.Solids == 1 {
		b.info.Name = name
	}
	for {
		switch word := s.next(); {
		case is(word, "facet"):
			if err := s.facet(b); err != nil {
				return err
			}
		case is(word, "endsolid"):
			s.restOfLine()
			return nil
		default:
			return s.unexpected(word, "endsolid")
		}
	}
}

// facet reads on after the word "facet". The normal may be anything, since
// some exporters write a degenerate facet's as "nan", or leave it out.
func (s *scanner) facet(b *builder) error {
	if b.info.Facets >= maxFacets {
		return &UnsupportedError{fmt.Sprintf("more than %d facets; export a coarser mesh", maxFacets)}
	}
	if err := b.stopped(); err != nil {
		return err
	}
	word := s.next()
	for skipped := 0; skipped < len("nxyz") && len(word) > 0 && !is(word, "outer"); skipped++ {
		word = s.next()
	}
	if !is(word, "outer") {
		return s.unexpected(word, "outer")
	}
	if err := s.expect("loop"); err != nil {
		return err
	}
	var p [3]geom.Vec
	for i := range p {
		if err := s.corner(&p[i], i); err != nil {
			return err
		}
	}
	word = s.next()
	if is(word, "vertex") {
		return s.fail(RuleCorners, "the facet has more than three corners; export triangles only")
	}
	if !is(word, "endloop") {
		return s.unexpected(word, "endloop")
	}
	b.add(&p)
	return s.expect("endfacet")
}

func (s *scanner) corner(p *geom.Vec, seen int) error {
	word := s.next()
	if is(word, "endloop") {
		return s.fail(RuleCorners, "the facet has %d corners, expected 3", seen)
	}
	if !is(word, "vertex") {
		return s.unexpected(word, "vertex")
	}
	for _, v := range []*float64{&p.X, &p.Y, &p.Z} {
		var err error
		if *v, err = s.number(); err != nil {
			return err
		}
	}
	return nil
}

func (s *scanner) number() (float64, error) {
	word := s.next()
	if len(word) == 0 {
		return 0, s.unexpected(word, "a number")
	}
	v, err := meshtext.Number(word)
	switch {
	case errors.Is(err, meshtext.ErrNotFinite):
		return 0, s.fail(RuleNonFinite, "a corner is not a finite number: %s", meshtext.Quote(word))
	case err != nil:
		return 0, s.fail(RuleNumber, "%v", err)
	}
	return v, nil
}
