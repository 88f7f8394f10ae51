// Package heat computes how hot metal freezes in a rubber mold: temperatures
// in space and time, by the conservation of heat. It knows bodies and what they
// are made of; it knows no alloys by name, no jobs and no molds.
//
// Begin with a [Scene]: the rubber's box, the bodies in it and the air around.
// Options say how long to go on, and the [Result] holds what became of each
// body, of the rubber's skin and of the mold's warmth.
//
// Lengths are mm, times s, temperatures °C, heat J. Contact and air take
// W/(m²·K), conductivity W/(m·K), as tables print them.
package heat
