package threemf

import (
	"archive/zip"
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/klauspost/compress/flate"

	"halfpour/geom"
)

// Write writes the package. Vertices are rounded to float32, as package stl
// does, and keep their indices; all objects together are moved just as far as
// takes them into the positive octant. The same package gives the same bytes.
//
// A package that cannot be printed (no objects, an object without triangles,
// an index out of range, a coordinate that is no finite float32) is an error
// before anything is written.
func Write(w io.Writer, pkg Package) error {
	if err := writable(pkg); err != nil {
		return err
	}
	z := zip.NewWriter(w)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		// The standard library's packer takes more than half as long again.
		return flate.NewWriter(w, flate.BestSpeed)
	})
	for _, part := range []struct {
		name  string
		write func(*bufio.Writer)
	}{
		{typesPart, func(b *bufio.Writer) { b.WriteString(typesContent) }},
		{relsPart, func(b *bufio.Writer) { b.WriteString(relsContent) }},
		{modelPart, func(b *bufio.Writer) { writeModel(b, pkg) }},
	} {
		// Create leaves the time zero.
		entry, err := z.Create(part.name)
		if err != nil {
			return err
		}
		b := bufio.NewWriterSize(entry, 32<<10)
		part.write(b)
		if err := b.Flush(); err != nil { // holds the first error of all writes
			return err
		}
	}
	return z.Close()
}

func writable(pkg Package) error {
	if len(pkg.Objects) == 0 {
		return fmt.Errorf("there are no objects to write")
	}
	for _, o := range pkg.Objects {
		if o.Mesh == nil || len(o.Mesh.Triangles) == 0 {
			return fmt.Errorf("object %q has no triangles", o.Name)
		}
		if !o.Offset.IsFinite() {
			return fmt.Errorf("object %q has offset %v, which is not finite", o.Name, o.Offset)
		}
		for i, v := range o.Mesh.Vertices {
			if !round32(v).IsFinite() {
				return fmt.Errorf("object %q: vertex %d is no finite float32: %v", o.Name, i, v)
			}
		}
		for t, corners := range o.Mesh.Triangles {
			for _, v := range corners {
				if v < 0 || int(v) >= len(o.Mesh.Vertices) {
					return fmt.Errorf("object %q: triangle %d has corner %d, the mesh has %d vertices",
						o.Name, t, v, len(o.Mesh.Vertices))
				}
			}
		}
	}
	return nil
}

// writeModel leaves errors to b, which keeps the first.
func writeModel(b *bufio.Writer, pkg Package) {
	b.WriteString(xmlHeader)
	b.WriteString(`<model unit="millimeter" xml:lang="en-US" xmlns="` + namespace + "\">\n")
	b.WriteString(`<metadata name="Title">` + escaped(pkg.Title) + "</metadata>\n")
	b.WriteString(`<metadata name="Application">halfpour</metadata>` + "\n<resources>\n")
	for i, o := range pkg.Objects {
		fmt.Fprintf(b, `<object id="%d" type="model" name="%s"><mesh>`+"\n", i+1, escaped(o.Name))
		writeMesh(b, o.Mesh)
		b.WriteString("</mesh></object>\n")
	}
	b.WriteString("</resources>\n<build>\n")
	shift := intoOctant(pkg.Objects)
	for i, o := range pkg.Objects {
		p := o.Offset.Add(shift)
		line := fmt.Appendf(nil, `<item objectid="%d" transform="1 0 0 0 1 0 0 0 1`, i+1)
		for _, x := range [3]float64{p.X, p.Y, p.Z} {
			line = strconv.AppendFloat(append(line, ' '), upToMicro(x), 'g', -1, 64)
		}
		b.Write(append(line, "\"/>\n"...))
	}
	b.WriteString("</build>\n</model>\n")
}

func writeMesh(b *bufio.Writer, m *geom.TriMesh) {
	b.WriteString("<vertices>\n")
	var line []byte
	for _, v := range m.Vertices {
		v = round32(v)
		line = strconv.AppendFloat(append(line[:0], `<vertex x="`...), v.X, 'g', -1, 32)
		line = strconv.AppendFloat(append(line, `" y="`...), v.Y, 'g', -1, 32)
		line = strconv.AppendFloat(append(line, `" z="`...), v.Z, 'g', -1, 32)
		b.Write(append(line, "\"/>\n"...))
	}
	b.WriteString("</vertices>\n<triangles>\n")
	for _, t := range m.Triangles {
		line = strconv.AppendInt(append(line[:0], `<triangle v1="`...), int64(t[0]), 10)
		line = strconv.AppendInt(append(line, `" v2="`...), int64(t[1]), 10)
		line = strconv.AppendInt(append(line, `" v3="`...), int64(t[2]), 10)
		b.Write(append(line, "\"/>\n"...))
	}
	b.WriteString("</triangles>\n")
}

// intoOctant returns the least move that leaves no coordinate negative, as
// the file prints them.
func intoOctant(objects []Object) geom.Vec {
	low := geom.Vec{}
	for _, o := range objects {
		box := o.Mesh.BoundingBox()
		printed := geom.Vec{X: printed32(box.Min.X), Y: printed32(box.Min.Y), Z: printed32(box.Min.Z)}
		low = low.Min(printed.Add(o.Offset))
	}
	return low.Neg()
}

// printed32 returns the number that a reader makes of x printed as a float32.
func printed32(x float64) float64 {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', -1, 32), 64) // finite by writable
	return v
}

// upToMicro rounds up to a millionth of a millimetre, which keeps sums of
// binary fractions short and what is on the plate above it.
func upToMicro(x float64) float64 { return math.Ceil(x*1e6-1e-3)/1e6 + 0 }

// round32 also turns -0 into +0.
func round32(p geom.Vec) geom.Vec {
	return geom.Vec{X: float64(float32(p.X)) + 0, Y: float64(float32(p.Y)) + 0, Z: float64(float32(p.Z)) + 0}
}

// escaped returns text as XML wants it; what XML cannot hold becomes U+FFFD.
func escaped(s string) string {
	var out strings.Builder
	xml.EscapeText(&out, []byte(s)) // a Builder does not fail
	return out.String()
}
