package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"strings"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// headMesh is a head as its file holds it.
type headMesh struct {
	path     string
	format   string // formatSTL, formatOBJ or format3MF
	mesh     *geom.TriMesh
	solid    geom.Solid
	findings []moldbox.Finding // oddities that were put up with
	looked   bool              // for crossings
}

// mostOpen is by what part a head's volume may be uncertain unless it is said:
// what the rubber is measured to.
const mostOpen = 0.0005

// mostHeadBytes is far beyond any head: one of five million facets has 250 MB.
const mostHeadBytes = 2 << 30

// loadHead reads the mesh of a head that a job names, mends small defects, and
// refuses what encloses no volume.
func loadHead(ctx context.Context, path, job string) (*headMesh, error) {
	data, err := readHeadFile(path)
	if err != nil {
		return nil, meshError(path, "unreadable", plainCause(err),
			"head.file in "+job+" names it; a relative path starts at the job's folder")
	}
	h, err := decodeHead(path, data)
	if err != nil {
		return nil, err
	}
	if err := h.makeSolid(ctx); err != nil {
		return nil, err
	}
	return h, nil
}

// readHeadFile refuses what has no end, or more of it than memory.
func readHeadFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errors.New("is a folder, not a mesh")
	case !info.Mode().IsRegular():
		return nil, errors.New("is no regular file")
	case info.Size() > mostHeadBytes:
		return nil, fmt.Errorf("%d bytes are too many for a head, at most %d: export a coarser mesh", info.Size(), mostHeadBytes)
	}
	return os.ReadFile(path)
}

func (h *headMesh) note(code string, severity moldbox.Severity, message, remedy string) {
	h.findings = append(h.findings, moldbox.Finding{
		Severity: severity, Code: code, Message: h.path + ": " + message, Remedy: remedy,
	})
}

// Heads are some 8 to 100 mm long (common practice, no source): a file that is
// far off is likely in another unit than the job says.
const shortHead, longHead = 4.0, 200.0

// checkSize says a suspicious size back.
func (h *headMesh) checkSize(t pourplan.HeadTable) []moldbox.Finding {
	drawn := h.solid.BoundingBox().Size()
	s := drawn.Mul(t.MMPerUnit())
	long := math.Max(s.X, math.Max(s.Y, s.Z))
	if long >= shortHead && long <= longHead {
		return nil
	}
	return []moldbox.Finding{{
		Severity: moldbox.Warn, Code: "head-size", Value: long, Limit: longHead, Unit: "mm",
		Message: fmt.Sprintf("%s: the head is %s mm with unit = %q", h.path, sizeText(s), t.Unit),
		Remedy:  h.unitRemedy(math.Max(drawn.X, math.Max(drawn.Y, drawn.Z))),
	}}
}

// unitRemedy names the units in which a head that is long in its file's unit
// would have a likely size.
func (h *headMesh) unitRemedy(long float64) string {
	if h.format == format3MF {
		return "a 3MF file states its unit: export it again with the unit that it was drawn in"
	}
	remedy := "an " + h.format + " file has no unit: set head.unit to the one it was drawn in"
	var likely []string
	for _, unit := range []string{"mm", "cm", "in", "ft", "m"} {
		k := pourplan.HeadTable{Unit: unit}.MMPerUnit()
		if long*k >= shortHead && long*k <= longHead {
			likely = append(likely, fmt.Sprintf("%q (%.4g mm long)", unit, long*k))
		}
	}
	if len(likely) > 0 {
		remedy += ", likely " + strings.Join(likely, " or ")
	}
	return remedy
}

// sizeText is a size as it is said back to the user.
func sizeText(s geom.Vec) string {
	if math.Max(s.X, math.Max(s.Y, s.Z)) < 1 {
		return fmt.Sprintf("%.2g x %.2g x %.2g", s.X, s.Y, s.Z)
	}
	return fmt.Sprintf("%.1f x %.1f x %.1f", s.X, s.Y, s.Z)
}

func meshError(path, rule, what string, hints ...string) error {
	return &fault{code: exitMesh, problems: []problem{{
		Message: path + ": " + what, File: path, Rule: rule, Hints: hints,
	}}}
}

// plainCause says why a file cannot be read without repeating its name.
func plainCause(err error) string {
	var p *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "no such file"
	case errors.Is(err, fs.ErrPermission):
		return "no permission to read it"
	case errors.As(err, &p):
		return p.Err.Error()
	}
	return err.Error()
}
