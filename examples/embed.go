// Package examples holds complete jobs of an invented workshop and the starter
// job that "halfpour new" writes. Every figure in them is demo data.
package examples

import _ "embed"

// StarterJob is the text of a new job; it names its head "head.stl".
//
//go:embed starter/job.toml
var StarterJob []byte
