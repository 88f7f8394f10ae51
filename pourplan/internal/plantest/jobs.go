// Package plantest holds the jobs and the mold that tests of plans and sheets
// share. It knows nothing of pourplan, so that pourplan's own tests can use it.
//
//	jobs.go     a short job, and tables to add to it
//	by_hand.go  a job whose figures package byhand computes a second time
//	mold.go     a mold of round heads
package plantest

import (
	"fmt"
	"strings"
)

// ShortJob is the least that a person has to write.
const ShortJob = `title = "ball jig"
cavities = 3

[head]
file = "ball.stl"
eye = [0, 9.5, 0]

[hook]
wire = "1 mm"
eye_inside = 2.2
leg = 8.6
shank = 24
gape = 9
point = 6

[weight]
target = "3/8 oz"

[metal]
preset = "lead-antimony 4"

[rubber]
preset = "tin-cure 100:3"
`

// Job is the short job of n heads; more is added to its last table, [rubber].
func Job(n int, more string) string {
	return strings.Replace(ShortJob, "cavities = 3", fmt.Sprintf("cavities = %d", n), 1) + more
}

// Keepers are n kinds of keeper, three of each in a head.
func Keepers(n int) string {
	text := ""
	for i := range n {
		text += fmt.Sprintf("[[keeper]]\nname = \"spike %d\"\nwire = 0.8\ncount = 3\nstep = [2, 0, 0]\npoints = [[0, 0, 0], [9, 0, 0]]\n", i+1)
	}
	return text
}

// Priced has a price for everything.
const Priced = `scale = 0.1
[casting]
yield = 80
dross = 4
[plastic]
name = "PLA"
[cost]
rubber = 30
metal = 5
hook = 0.20
plastic = 25
shop = 1.50
`

// Rich are all tables of shopping, clock and money, with many kits.
const Rich = `[casting]
heads = 200
pot = "4 kg"
[buying]
molds = 3
have = "120 g"
[[kit]]
name = "a can with a name that is longer than any label on a shelf"
mass = "700 g"
price = 37.5
[[kit]]
a = "250 g"
price = 15
[[kit]]
mass = "1 kg"
price = 45
[evening]
start = "2026-11-27 21:30"
room = 18
cup = "600 ml"
post_cure = "4 h"
post_cure_at = "60 C"
[plastic]
name = "PLA"
[cost]
currency = "shell coins"
metal = 6.5
hook = 0.25
plastic = 22
other = 1.5
shop = 2.2
`
