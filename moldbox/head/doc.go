// Package head turns the bytes of a head's file into a sound solid, and says
// what it found in them. It knows no files on disk, no jobs and no units: a mesh
// keeps its file's unit.
//
// The files, in the order in which a head goes through them:
//
//	read.go       Read and the Head that it returns
//	kind.go       what the bytes are: STL, OBJ, 3MF, or no mesh at all
//	formats.go    bytes of each format to a mesh
//	solid.go      mesh to a solid: small defects mended, hollows filled
//	apart.go      bodies that look like hooks taken out; Head.Hook measures one
//	crossings.go  Head.LookForCrossing, slower: does the mesh cut through itself
//	errors.go     Error, for what makes no head
package head
