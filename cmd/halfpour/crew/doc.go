// Package crew lets two engines, each with a thread of its own, share the work of a
// build: both go through the same steps from the same input, whichever is free takes
// the next piece, and hands the other what it comes to. One of them leads: it says
// who takes what, and goes on alone where the other is gone.
package crew
