package moldbox

import (
	"context"
	"fmt"
	"math"
	"sync"

	"halfpour/geom"
)

// Proof is what a build has checked about its own frames before it writes
// them.
type Proof struct {
	Left  HalfProof  `json:"left"`  // of the left frame
	Right HalfProof  `json:"right"` // of the right frame
	Whole WholeProof `json:"whole"` // of both halves together
}

// HalfProof compares the mesh of a frame, as its file will hold it, with the
// solid that it was made of and with the heads' own points.
type HalfProof struct {
	Triangles     int     `json:"triangles"`              // of the mesh: closed, none crossing
	Tolerance     float64 `json:"tolerance_mm"`           // that was asked of the mesh
	MeshVolume    float64 `json:"mesh_volume_mm3"`        // by the divergence theorem
	SolidVolume   float64 `json:"solid_volume_mm3"`       // integrated from the solid
	SolidLeast    float64 `json:"solid_volume_least_mm3"` // that it can be, certified
	SolidMost     float64 `json:"solid_volume_most_mm3"`  // that it can be, certified
	HeadPoints    int     `json:"head_points"`            // of the heads, held against the mesh
	HeadDeviation float64 `json:"head_deviation_mm"`      // the greatest of any of them
	ThinPoints    int     `json:"head_points_thin"`       // further ones, on parts thinner than half the tolerance that the mesh does not reach
}

// OffPercent is how much larger the mesh is than its solid.
func (p HalfProof) OffPercent() float64 { return 100 * (p.MeshVolume/p.SolidVolume - 1) }

// WholeProof is the sum of the parts against the block of both halves, mm³.
type WholeProof struct {
	LeftRubber  float64 `json:"left_rubber_mm3"`  // measured by itself
	RightRubber float64 `json:"right_rubber_mm3"` // measured by itself
	Void        float64 `json:"void_mm3"`         // cavities, wires and channels
	Block       float64 `json:"block_mm3"`        // that the three must make
}

// volumeShare is how well a build integrates.
const volumeShare = 5e-4

// volumeLimit is what the volumes of a frame's mesh and its solid may differ
// by, mm³. A surface off by the tolerance everywhere, and to one side, would make
// tolerance times area. But vertices lie on the surface, flat patches, which are
// most of a frame, lie in it, and a chord of a curve is off by two thirds of
// its sagitta on the mean: the examples come to a hundredth, at tolerances of
// 0.02 to 0.5 mm. A tenth is allowed, or what the integral is asked for.
func volumeLimit(solid, area, tolerance float64) float64 {
	return math.Max(volumeShare*solid, tolerance*area/10)
}

// ProofError says which claim of a build did not hold: a defect of the program,
// or of a head that cuts through itself.
type ProofError struct{ Claim string }

func (e *ProofError) Error() string { return "proof failed: " + e.Claim }

func proofError(format string, args ...any) error {
	return &ProofError{fmt.Sprintf(format, args...)}
}

// proveHalf checks a frame's mesh and tells what it begins. That it does not cross itself
// geom.Mesh has proved of the very same corners. rubber returns the half's, as measured;
// heads are the cavities' own meshes, in the order of the mold's cavities.
func (m *Mold) proveHalf(ctx context.Context, half Half, mesh *geom.TriMesh, rubber func() (geom.Integral, error), tolerance float64, heads []*geom.TriMesh, begin func(step string)) (HalfProof, error) {
	begin("proving")
	p := HalfProof{Triangles: len(mesh.Triangles), Tolerance: tolerance}
	// Each of these three keeps only one processor busy.
	var surface *geom.MeshSolid
	var badShape, badSurface error
	var others sync.WaitGroup
	others.Go(func() { badShape = proveShape(half.Name, mesh, heads) })
	others.Go(func() { surface, badSurface = geom.NewMeshSolid(mesh) })
	faults := geom.Audit(mesh)
	others.Wait()
	for _, f := range faults {
		if !f.IsNote() {
			return p, proofError("%s frame: %v", half.Name, f)
		}
	}
	if badShape != nil {
		return p, badShape
	}
	if badSurface != nil {
		return p, proofError("%s frame: %v", half.Name, badSurface)
	}
	begin("measuring")
	of, err := rubber()
	if err != nil {
		return p, err
	}
	solid, err := m.frameVolume(ctx, half, of, volumeShare)
	if err != nil {
		return p, err
	}
	p.MeshVolume, p.SolidVolume, p.SolidLeast, p.SolidMost = mesh.Volume(), solid.Best, solid.Lo, solid.Hi
	limit := volumeLimit(solid.Best, mesh.Area(), tolerance)
	if d := math.Abs(p.MeshVolume - p.SolidVolume); !(d <= limit) {
		return p, proofError("%s frame: its mesh encloses %.1f mm³ and its solid %.1f mm³; the limit is a difference of %.1f mm³",
			half.Name, p.MeshVolume, p.SolidVolume, limit)
	}
	begin("comparing with the heads")
	if err := p.addHeads(ctx, m, half, surface, heads); err != nil {
		return p, err
	}
	if p.HeadPoints == 0 {
		return p, proofError("%s frame: it holds no point of any head's surface", half.Name)
	}
	return p, nil
}

// ProveWhole checks that the halves' rubber and what is not rubber make the
// block. It fails with a ProofError, or with the context.
func (m *Mold) ProveWhole(ctx context.Context, left, right geom.Integral) (WholeProof, error) {
	opt := geom.IntegrateOptions{}
	block, err := geom.Integrate(ctx, m.Block, opt)
	if err != nil {
		return WholeProof{}, err
	}
	opt.AbsTol = volumeShare * block.Best
	void, err := m.voidVolume(ctx, opt)
	if err != nil {
		return WholeProof{}, err
	}
	p := WholeProof{LeftRubber: left.Best, RightRubber: right.Best, Void: void.Best, Block: block.Best}
	if lo, hi := left.Lo+right.Lo+void.Lo, left.Hi+right.Hi+void.Hi; !(lo <= block.Hi && hi >= block.Lo) {
		return p, proofError("left rubber, right rubber and void make %.1f to %.1f mm³, the block is %.1f to %.1f mm³",
			lo, hi, block.Lo, block.Hi)
	}
	if d := math.Abs(p.Apart()); !(d <= 2*volumeShare*block.Best) {
		return p, proofError("left rubber, right rubber and void differ from the block by %.1f mm³ of %.1f mm³, the limit is %.1f mm³",
			d, block.Best, 2*volumeShare*block.Best)
	}
	return p, nil
}

// Apart is what the parts have more than the block, mm³.
func (p WholeProof) Apart() float64 { return p.LeftRubber + p.RightRubber + p.Void - p.Block }
