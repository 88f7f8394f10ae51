package making

import "runtime"

// mostMemory is what a mold may take, bytes. A browser gives a page 4 GiB at most,
// for all that it does.
func mostMemory() int {
	if runtime.GOOS == "js" {
		return 2 << 30
	}
	return 4 << 30
}

// What a build takes at its peak, bytes, as measured on molds of one to sixty
// cavities and of heads of 0.1 to 5 million facets (see .ci/limits).
const (
	memoryBase      = 100 << 20
	memoryPerFacet  = 300      // of each head file,
	memoryPerPlaced = 500      // again for each cavity that it is in,
	memoryPerCavity = 26 << 20 // and for what is not the head: bed, sprue, vents
)

// Facets counts those of all cavities' heads, once they are read.
func (m *Mold) Facets() (sum int) {
	for _, c := range m.Job.Placed() {
		sum += len(m.heads[c.Head.File].Mesh.Triangles)
	}
	return sum
}

// memory foretells what a build takes, bytes.
func (m *Mold) memory() int {
	read := 0
	for _, h := range m.heads {
		read += len(h.Mesh.Triangles)
	}
	return m.memoryOfRest() + memoryPerFacet*read + memoryPerPlaced*m.Facets()
}

// memoryOfRest is what a build takes however coarse its heads are.
func (m *Mold) memoryOfRest() int {
	return memoryBase + memoryPerCavity*len(m.Job.Placed())
}

// fitsMemory refuses a mold that would take too much memory, before it does.
func (m *Mold) fitsMemory() error {
	need := m.memory()
	if need <= mostMemory() {
		return nil
	}
	share := float64(mostMemory()-m.memoryOfRest()) / float64(need-m.memoryOfRest())
	largest := 0
	for _, h := range m.heads {
		largest = max(largest, len(h.Mesh.Triangles))
	}
	return &MemoryError{Facets: m.Facets(), Need: need, Most: mostMemory(), Coarser: int(share*float64(largest)/1000) * 1000}
}
