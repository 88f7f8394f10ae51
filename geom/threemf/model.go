package threemf

import (
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"halfpour/geom"
)

// model gathers what a model part holds, in the file's unit.
type model struct {
	ctx     context.Context
	part    *part
	xml     *xml.Decoder
	scale   float64 // mm in the file's unit
	title   string
	objects map[string]*object // by id
	items   []component
	tokens  int // read so far
	depth   int // of the element being read
	seen    int // vertices and triangles
	placed  int // items and components
	spare   int // vertices and triangles that may be made of any file
}

// Bounds on what costs more memory than its text: no person puts as many
// things on a plate, or elements in each other.
const (
	mostDepth   = 64
	mostObjects = 1 << 14
	mostPlaced  = 1 << 16 // items and components
)

type object struct {
	name, kind string
	vertices   []geom.Vec
	triangles  [][3]int32
	components []component
	levels     int // of components below it
}

// component is an object put in a place, in another object or on the plate.
type component struct {
	object *object
	place  transform
}

func newModel(ctx context.Context, p *part) *model {
	return &model{ctx: ctx, part: p, xml: xml.NewDecoder(p), objects: map[string]*object{}, spare: spareCopies}
}

// token reads the next piece of the text, of which a part holds only so much.
func (m *model) token() (xml.Token, error) {
	const seldom = 1 << 12 // a few milliseconds
	if m.tokens++; m.tokens%seldom == 0 && m.ctx.Err() != nil {
		return nil, m.ctx.Err()
	}
	m.part.piece = mostPiece
	token, err := m.xml.Token()
	if err != nil && err != io.EOF {
		err = m.part.fault(RuleXML, "not well-formed", err)
	}
	return token, err
}

func (m *model) fail(rule Rule, format string, args ...any) error {
	line, _ := m.xml.InputPos()
	return &FormatError{Part: m.part.name, Line: line, Rule: rule, Detail: fmt.Sprintf(format, args...)}
}

// parse takes the elements of the core namespace where the specification has
// them and steps over all others.
func (m *model) parse() error {
	return m.children(func(e xml.StartElement) error {
		if !isCore(e, "model") {
			return m.fail(RuleMissing, "the root element is %q, expected \"model\" of %s", e.Name.Local, namespace)
		}
		unit, required := attr(e, "unit"), strings.Fields(attr(e, "requiredextensions"))
		if len(required) > 0 {
			return &UnsupportedError{fmt.Sprintf("the file needs the 3MF extension %q; export it without extensions", required[0])}
		}
		var err error
		if m.scale, err = millimetres(unit); err != nil {
			return m.fail(RuleUnit, "%v", err)
		}
		return m.children(m.modelChild)
	})
}

// children calls visit for each child element of the one whose start was read
// last; visit either reads the child to its end or leaves that to children.
func (m *model) children(visit func(xml.StartElement) error) error {
	level := m.depth
	for {
		token, err := m.token()
		if err == io.EOF && level == 0 {
			return nil
		}
		if err != nil {
			return err
		}
		switch e := token.(type) {
		case xml.StartElement:
			if m.depth++; m.depth > mostDepth {
				return m.fail(RuleSize, "elements lie more than %d deep in each other", mostDepth)
			}
			if m.depth > level+1 { // within a child that visit passed over
				continue
			}
			if err := visit(e); err != nil {
				return err
			}
		case xml.EndElement:
			m.depth--
			if m.depth < level {
				return nil
			}
		case xml.Directive:
			return m.fail(RuleXML, "has a document type, which the specification forbids")
		}
	}
}

func (m *model) modelChild(e xml.StartElement) error {
	switch {
	case isCore(e, "metadata") && attr(e, "name") == "Title":
		// The text stands before any element in it.
		token, err := m.token()
		if err != nil {
			return err
		}
		switch token := token.(type) {
		case xml.CharData:
			m.title = strings.TrimSpace(string(token))
		case xml.EndElement:
			m.depth--
		case xml.StartElement:
			m.depth++
		}
	case isCore(e, "resources"):
		return m.children(m.resource)
	case isCore(e, "build"):
		return m.children(func(e xml.StartElement) error {
			if !isCore(e, "item") {
				return nil
			}
			c, err := m.component(e)
			m.items = append(m.items, c)
			return err
		})
	}
	return nil
}

func (m *model) resource(e xml.StartElement) error {
	if !isCore(e, "object") {
		return nil
	}
	id, o := attr(e, "id"), &object{name: attr(e, "name"), kind: attr(e, "type")}
	if id == "" {
		return m.fail(RuleReference, "an object has no id")
	}
	if m.objects[id] != nil {
		return m.fail(RuleDuplicate, "there are two objects with the id %.20q", id)
	}
	err := m.children(func(e xml.StartElement) error {
		switch {
		case isCore(e, "mesh"):
			return m.mesh(o)
		case isCore(e, "components"):
			return m.children(func(e xml.StartElement) error {
				if !isCore(e, "component") {
					return nil
				}
				c, err := m.component(e)
				if err != nil {
					return err
				}
				if o.levels = max(o.levels, c.object.levels+1); o.levels > mostLevels {
					return m.fail(RuleSize, "components lie more than %d deep in each other", mostLevels)
				}
				o.components = append(o.components, c)
				m.seen++
				return nil
			})
		}
		return nil
	})
	if err != nil {
		return err
	}
	m.objects[id] = o // only now: an object cannot hold itself
	if len(m.objects) > mostObjects {
		return m.fail(RuleSize, "there are more than %d objects", mostObjects)
	}
	return nil
}

func (m *model) mesh(o *object) error {
	return m.children(func(e xml.StartElement) error {
		switch {
		case isCore(e, "vertices"):
			return m.children(func(e xml.StartElement) error {
				if !isCore(e, "vertex") {
					return nil
				}
				v, err := m.vertex(e)
				o.vertices = append(o.vertices, v)
				m.seen++
				return err
			})
		case isCore(e, "triangles"):
			return m.children(func(e xml.StartElement) error {
				if !isCore(e, "triangle") {
					return nil
				}
				t, err := m.corners(e, len(o.vertices))
				o.triangles = append(o.triangles, t)
				m.seen++
				return err
			})
		}
		return nil
	})
}

func (m *model) corners(e xml.StartElement, vertices int) (t [3]int32, err error) {
	for k, name := range [3]string{"v1", "v2", "v3"} {
		text := attr(e, name)
		v, err := strconv.ParseInt(text, 10, 32)
		if err != nil || v < 0 || v >= int64(vertices) {
			return t, m.fail(RuleIndex, "%s is %.20q, the object has %d vertices", name, text, vertices)
		}
		t[k] = int32(v)
	}
	return t, nil
}

func (m *model) vertex(e xml.StartElement) (p geom.Vec, err error) {
	if p.X, err = m.number(attr(e, "x")); err != nil {
		return p, err
	}
	if p.Y, err = m.number(attr(e, "y")); err != nil {
		return p, err
	}
	p.Z, err = m.number(attr(e, "z"))
	return p, err
}

// number takes what fits a float32: more is damage, and would overflow in
// products.
func (m *model) number(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !(math.Abs(v) <= math.MaxFloat32) {
		return 0, m.fail(RuleNumber, "expected a finite number, got %.20q", text)
	}
	return v, nil
}

func (m *model) component(e xml.StartElement) (component, error) {
	if slices.ContainsFunc(e.Attr, func(a xml.Attr) bool { return a.Name.Local == "path" && a.Value != "" }) { // an extension's
		return component{}, &UnsupportedError{"the file spreads its objects over several parts; export it as one model"}
	}
	if m.placed++; m.placed > mostPlaced {
		return component{}, m.fail(RuleSize, "there are more than %d items and components", mostPlaced)
	}
	id := attr(e, "objectid")
	o := m.objects[id]
	if o == nil {
		return component{}, m.fail(RuleReference, "there is no object %.20q before this line", id)
	}
	place, err := m.transform(attr(e, "transform"))
	return component{o, place}, err
}

func isCore(e xml.StartElement, name string) bool {
	return e.Name.Local == name && e.Name.Space == namespace
}

// attr returns an attribute of the core, which is in no namespace.
func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}
