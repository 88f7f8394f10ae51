// Package system is what operating systems differ in, each in one place:
//
//	browser.go     how a desktop shows an address
//	start_*.go     whether a double click started the program
//	documents*.go  where a person keeps documents
//	console_*.go   colours of a terminal; what a closed pipe is
//
// Package fileset locks files and makes their names survive a power cut. It replaces
// a file by renaming, which fails on Windows while another program has it open, and
// says so. Package pourplan says what can be the name of a file on every system, in
// whatever case. Ends of lines may be either in what is read; in what is written
// they are the same on every system.
package system
