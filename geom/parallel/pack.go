package parallel

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"reflect"
)

// Values as bytes, exactly as they are: also infinities, negative zeros, and lists
// that are empty or not there, which JSON and gob lose.

func pack(v any) ([]byte, error) { return appendValue(nil, reflect.ValueOf(v)) }

func unpack[T any](data []byte) (v T, err error) {
	p := packed{data}
	p.read(reflect.ValueOf(&v).Elem())
	if p.rest == nil || len(p.rest) > 0 {
		return v, errors.New("not what was packed")
	}
	return v, nil
}

func appendValue(b []byte, v reflect.Value) (_ []byte, err error) {
	le := binary.LittleEndian
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			return append(b, 1), nil
		}
		return append(b, 0), nil
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return binary.AppendVarint(b, v.Int()), nil
	case reflect.Uint8:
		return append(b, byte(v.Uint())), nil
	case reflect.Float32:
		return le.AppendUint32(b, math.Float32bits(float32(v.Float()))), nil
	case reflect.Float64:
		return le.AppendUint64(b, math.Float64bits(v.Float())), nil
	case reflect.String:
		return append(binary.AppendVarint(b, int64(v.Len())), v.String()...), nil
	case reflect.Slice, reflect.Pointer:
		if v.IsNil() {
			return binary.AppendVarint(b, -1), nil
		}
		if v.Kind() == reflect.Pointer {
			return appendValue(binary.AppendVarint(b, 1), v.Elem())
		}
		b = binary.AppendVarint(b, int64(v.Len()))
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return append(b, v.Bytes()...), nil
		}
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			if b, err = appendValue(b, v.Index(i)); err != nil {
				return nil, err
			}
		}
		return b, nil
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				return nil, fmt.Errorf("%v has fields that are not exported", v.Type())
			}
			if b, err = appendValue(b, v.Field(i)); err != nil {
				return nil, err
			}
		}
		return b, nil
	}
	return nil, fmt.Errorf("%v cannot be packed", v.Type())
}

// packed is what is still to be read; nil when it was not what was expected.
type packed struct{ rest []byte }

// take is the next n bytes; zeros at a fault.
func (p *packed) take(n int) []byte {
	if p.rest == nil || n < 0 || n > len(p.rest) {
		p.rest = nil
		return make([]byte, min(max(n, 0), 8))
	}
	part := p.rest[:n:n]
	p.rest = p.rest[n:]
	return part
}

func (p *packed) number() int64 {
	x, n := binary.Varint(p.rest)
	if n <= 0 {
		p.rest = nil
		return 0
	}
	p.rest = p.rest[n:]
	return x
}

func (p *packed) read(v reflect.Value) {
	le := binary.LittleEndian
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(p.take(1)[0] != 0)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(p.number())
	case reflect.Uint8:
		v.SetUint(uint64(p.take(1)[0]))
	case reflect.Float32:
		v.SetFloat(float64(math.Float32frombits(le.Uint32(p.take(4)))))
	case reflect.Float64:
		v.SetFloat(math.Float64frombits(le.Uint64(p.take(8))))
	case reflect.String:
		v.SetString(string(p.take(int(p.number()))))
	case reflect.Pointer:
		if p.number() == 1 {
			v.Set(reflect.New(v.Type().Elem()))
			p.read(v.Elem())
		}
	case reflect.Slice:
		n := int(p.number())
		switch {
		case n < 0:
			return
		case n > len(p.rest): // each takes a byte at least
			p.rest = nil
			return
		case v.Type().Elem().Kind() == reflect.Uint8:
			v.SetBytes(p.take(n))
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			p.read(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			p.read(v.Field(i))
		}
	default:
		p.rest = nil
	}
}
