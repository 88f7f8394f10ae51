package head

import (
	"context"
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
)

// Head is a head as its file holds it.
type Head struct {
	Name     string // of the file, as it was given to Read
	Format   Format
	Hooks    []*geom.TriMesh   // bodies in the file that look like hooks, beside the head; not in Mesh
	Wires    []Wire            // bodies beside the head that look like wires without an eye; in Mesh too
	Mesh     *geom.TriMesh     // in the file's unit; mm of a 3MF file, which states its own
	Solid    geom.Solid        // of the mesh
	Findings []moldbox.Finding // oddities that were accepted
	looked   bool              // for crossings
}

// Wire is a body that looks like a wire without an eye.
type Wire struct {
	Mesh *geom.TriMesh
	Long float64 // how many times longer than thick it is
}

// Format is a file format of heads, as it is called to the user.
type Format string

const (
	STL     Format = "STL"
	OBJ     Format = "OBJ"
	ThreeMF Format = "3MF"
)

// mostOpen is by what part a head's volume may be uncertain unless it is said:
// what the rubber is measured to.
const mostOpen = 0.0005

// Read makes a head of a file's bytes: it mends small defects, and refuses with
// an Error what encloses no volume. Any other error is the context's. The name is for
// what it says; the format shows in the bytes.
func Read(ctx context.Context, name string, data []byte) (*Head, error) {
	h, err := decode(ctx, name, data)
	if err != nil {
		return nil, err
	}
	if err := h.fits(mostFacets); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := h.makeSolid(ctx); err != nil {
		return nil, err
	}
	return h, nil
}

// mostFacets is twice what a mold can be made of: what looks at a mesh is not
// asked about more.
const mostFacets = 10_000_000

func (h *Head) fits(most int) error {
	if n := len(h.Mesh.Triangles); n > most {
		return refuse(h.Name, "too-many-facets", fmt.Sprintf("has %d facets, the limit is %d", n, most), "export the head with a coarser mesh")
	}
	return nil
}

func (h *Head) note(code string, severity moldbox.Severity, message, remedy string) {
	h.Findings = append(h.Findings, moldbox.Finding{
		Severity: severity, Code: code, Message: h.Name + ": " + message, Remedy: remedy,
	})
}

// counted is a number with its noun.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
