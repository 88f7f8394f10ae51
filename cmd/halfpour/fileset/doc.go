// Package fileset writes sets of files whole or not at all, whatever ends the
// program meanwhile, and keeps programs that write the same files apart.
//
// In reading order:
//
//	folder.go       one program at a time in a folder, and what it lists there
//	set.go          files written under temporary names
//	commit.go       all of them renamed, or put back
//	journal.go      the file that says what is to be renamed
//	repair.go       what a program that was killed has left, put in place
//	lock*.go        a file locked by the operating system
//	probe.go        whether a folder can be written to, asked early
//	read.go         files read
//	fault.go        what goes wrong, as a person reads it
package fileset
