// Package desk is a job as a form to fill in: every key with its field, what is
// typed there put into the job's text, and the way back. It touches no files and
// no network: a server or a worker in the browser stands between it and a page.
//
//	form.go     the form of a job's text: tables, fields, problems at their fields
//	value.go    what a person types into a field, as TOML, and back
//	head.go     another head, and how it may lie
//	copy.go     a copy of a job
//	point.go    what a person points at on the head
//	history.go  the texts that a job has had: undo and redo
//
// docs/desk.md is the protocol between page and engine.
package desk
