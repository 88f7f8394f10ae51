package geom

import (
	"math"
	"reflect"
)

// alikeWithin is how far apart, in mm, two numbers may be that rounding alone tells
// apart: places a few hundred mm from the origin, moved.
const alikeWithin = 1e-10

// alike reports whether b is certainly a moved by a way, but for rounding. It goes by
// what solids are made of. The boxes of combinations do not count: two that are pruned
// to boxes that are alike have the same values there whatever their own.
func alike(a, b Solid, by Vec) bool {
	switch a := a.(type) {
	case *union:
		b, ok := b.(*union)
		return ok && allAlike(a.children, b.children, by)
	case *intersection:
		b, ok := b.(*intersection)
		return ok && !a.clip && !b.clip && allAlike(a.children, b.children, by)
	case *complement:
		b, ok := b.(*complement)
		return ok && alike(a.s, b.s, by)
	case *smoothUnion:
		b, ok := b.(*smoothUnion)
		return ok && a.radius == b.radius && alike(a.a, b.a, by) && alike(a.b, b.b, by)
	case *shifted:
		b, ok := b.(*shifted)
		return ok && a.d == b.d && alike(a.s, b.s, by)
	case *placed:
		b, ok := b.(*placed)
		return ok && a.to.movedTo(b.to, by) && alike(a.s, b.s, Vec{})
	}
	if by != (Vec{}) {
		a = Move(by).Solid(a)
	}
	return nearlyEqual(reflect.ValueOf(a), reflect.ValueOf(b))
}

func allAlike(a, b []Solid, by Vec) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !alike(a[i], b[i], by) {
			return false
		}
	}
	return true
}

// movedTo reports whether q is p and then a move by a way.
func (p Transform) movedTo(q Transform, by Vec) bool {
	near := func(a, b Vec) bool { return a.Dist(b) <= alikeWithin }
	return near(p.x, q.x) && near(p.y, q.y) && near(p.z, q.z) && math.Abs(p.k-q.k) <= alikeWithin &&
		near(p.move.Add(by), q.move)
}

var (
	meshBodyType   = reflect.TypeFor[*meshBody]()
	prunedMeshType = reflect.TypeFor[*prunedMesh]()
)

// nearlyEqual compares two values of this package's types, numbers to within alikeWithin. Of
// meshes, and of what other packages make, it says so only where they are one; which facets a
// mesh is pruned to does not count.
func nearlyEqual(a, b reflect.Value) bool {
	if !a.IsValid() || !b.IsValid() || a.Type() != b.Type() {
		return false
	}
	switch a.Type() {
	case meshBodyType:
		return a.Pointer() == b.Pointer()
	case prunedMeshType:
		return a.Elem().FieldByName("whole").Pointer() == b.Elem().FieldByName("whole").Pointer()
	}
	switch a.Kind() {
	case reflect.Float64, reflect.Float32:
		x, y := a.Float(), b.Float()
		return x == y || math.Abs(x-y) <= alikeWithin
	case reflect.Bool:
		return a.Bool() == b.Bool()
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return a.Int() == b.Int()
	case reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return a.Uint() == b.Uint()
	case reflect.String:
		return a.String() == b.String()
	case reflect.Pointer:
		return a.Pointer() == b.Pointer() || !a.IsNil() && !b.IsNil() && nearlyEqual(a.Elem(), b.Elem())
	case reflect.Interface:
		return a.IsNil() && b.IsNil() || nearlyEqual(a.Elem(), b.Elem())
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !nearlyEqual(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Struct:
		if a.Type().PkgPath() != meshBodyType.Elem().PkgPath() {
			return false
		}
		for i := range a.NumField() {
			if !nearlyEqual(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	}
	return false
}
