// Package live shows a build that watches its job in the browser: a server on
// the loopback alone, at a random port and under a random name, for one page
// and what that page asks for. It serves documents that are handed to it and
// no file; what the page sends goes to those who handle it.
package live
