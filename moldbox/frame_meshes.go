package moldbox

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// FrameMesh is a printed frame as its file holds it.
type FrameMesh struct {
	Mesh    *geom.TriMesh // in the half's print coordinates
	Proof   HalfProof
	Hanging []Hanging // what of it hangs over, the largest first
}

// FrameOptions says how frames are made.
type FrameOptions struct {
	Tolerance float64         // of the meshes, mm
	Heads     []*geom.TriMesh // the cavities' own meshes in mm, in the order of the mold's cavities
	OneByOne  bool            // one half after the other, to save memory

	// Rubber returns that of the halves as measured. It is called when a frame is
	// meshed, so that meshing need not wait for it.
	Rubber func(context.Context) ([2]geom.Integral, error)

	// Drawn, unless nil, is meshed instead of the mold, to its own tolerance: the mold
	// with heads of fewer facets. What comes out is held against the mold.
	Drawn          *Mold
	DrawnTolerance float64

	// Meshed, unless nil, is called with each half's mesh as its file will hold it, before it
	// is proved: what is made of it meanwhile counts only once it is.
	Meshed func(half int, mesh *geom.TriMesh)

	// Made, unless nil, is called with each half's frame, the left one's number being 0, as
	// soon as it is proved.
	Made func(half int, f FrameMesh)

	// Progress, unless nil, is called as each step of a half begins; it may be
	// called from several goroutines at once.
	Progress func(half, step string)
}

// fewProcessors is how many meshing one frame keeps busy nearly all the time.
const fewProcessors = 4

// MakeFrames meshes and proves both frames, the left one first. It does both at
// once, since parts of meshing keep only one processor busy; on few processors it proves
// one while it meshes the other, in half the memory. It fails with a ProofError, or as
// geom.Mesh does.
func (m *Mold) MakeFrames(ctx context.Context, opt FrameOptions) (frames [2]FrameMesh, err error) {
	drawn, tolerance := m.Halves(), opt.Tolerance
	if opt.Drawn != nil {
		drawn, tolerance = opt.Drawn.Halves(), opt.DrawnTolerance
	}
	var meshing sync.Mutex
	mesh := func(ctx context.Context, s geom.Solid, start func(step string)) (*geom.TriMesh, error) {
		if runtime.GOMAXPROCS(0) <= fewProcessors {
			meshing.Lock()
			defer meshing.Unlock()
		}
		return geom.Mesh(ctx, s, geom.MeshOptions{Tolerance: tolerance, Progress: func(step string, _ float64) { start(step) }})
	}
	group, ctx := errgroup.WithContext(ctx)
	if opt.OneByOne {
		group.SetLimit(1)
	}
	for i, half := range m.Halves() {
		start := func(step string) {
			if opt.Progress != nil {
				opt.Progress(half.Name, step)
			}
		}
		group.Go(func() (err error) {
			frames[i], err = parallel.Share(ctx, half.Name+" frame", func() (f FrameMesh, err error) {
				printed, err := mesh(ctx, drawn[i].Frame, start)
				if err != nil {
					return f, fmt.Errorf("%s frame: %w", half.Name, err)
				}
				// What is proved is what the files will hold.
				f.Mesh = geom.Rounded32(printed)
				if opt.Meshed != nil {
					opt.Meshed(i, f.Mesh)
				}
				var hangs sync.WaitGroup
				hangs.Go(func() { f.Hanging = m.hanging(half, f.Mesh) })
				rubber := func() (geom.Integral, error) {
					of, err := opt.Rubber(ctx)
					return of[i], err
				}
				f.Proof, err = m.proveHalf(ctx, half, f.Mesh, rubber, opt.Tolerance, opt.Heads, start)
				hangs.Wait()
				return f, err
			})
			start("proved")
			if err == nil && opt.Made != nil {
				opt.Made(i, frames[i])
			}
			return err
		})
	}
	err = group.Wait()
	return frames, err
}

// Halves are the left half and the right one.
func (m *Mold) Halves() [2]Half { return [2]Half{m.Left, m.Right} }

// rubberTolerance is how true a rubber half is meshed where its frame's mesh
// cannot stand for it, mm.
const rubberTolerance = 0.1

// RubberMeshes returns the surfaces of the cured halves as they lie in their
// frames: taken from the frames' meshes, which come from MakeFrames; under a seal
// coat, where those stand back from the rubber, meshed by themselves.
func (m *Mold) RubberMeshes(ctx context.Context, frames [2]*geom.TriMesh) (rubber [2]*geom.TriMesh, err error) {
	both, ctx := errgroup.WithContext(ctx)
	for i := range rubber {
		both.Go(func() (err error) {
			rubber[i], err = m.RubberMesh(ctx, i, frames[i])
			return err
		})
	}
	err = both.Wait()
	return rubber, err
}

// RubberMesh is RubberMeshes of one half, the left one's number being 0.
func (m *Mold) RubberMesh(ctx context.Context, half int, frame *geom.TriMesh) (*geom.TriMesh, error) {
	if m.Spec.Finish.SealCoat > 0 {
		return geom.Mesh(ctx, m.Halves()[half].Rubber(), geom.MeshOptions{Tolerance: rubberTolerance})
	}
	return m.Halves()[half].RubberMesh(frame)
}
