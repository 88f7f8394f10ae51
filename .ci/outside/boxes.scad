// Frames of molds drawn by hand, invented, for .ci/outside/boxes: part = "frame",
// of a half, or "rubber", its room up to the fill line. Lengths mm.
part = "frame";
box = 1;
$fn = 48;

// Box 1: two half balls with a funnel between two rows of keys.
// Box 2: a drafted room with round corners, a cone and a post; 1 inch = 1 in the file.
// Box 3: a plain room whose half holds 3.5 US fl oz (common practice, no source).
floz = 29573.5295625;
room = box == 1 ? [70, 50, 18] : box == 2 ? [60, 44, 20] : [92, 62, 3.5 * floz / (92 * 62) + 3];
fill = room.z - 3;
wall = 3;

module inside(high) {
	if (box == 2)
		hull() for (x = [-1, 1], y = [-1, 1]) translate([x * (room.x / 2 - 6), y * (room.y / 2 - 6), 0]) cylinder(r1 = 6, r2 = 6 + high / 20, h = high);
	else translate([-room.x / 2, -room.y / 2, 0]) cube([room.x, room.y, high]);
}
module things() {
	if (box == 1) {
		for (x = [-15, 15]) translate([x, 0, 0]) sphere(5);
		rotate([-90, 0, 0]) cylinder(r1 = 2, r2 = 5, h = room.y / 2 + 1);
	}
	if (box == 2) {
		rotate([0, 0, 20]) scale([2, 1, 0.8]) sphere(8);
		translate([20, -12, -1]) cylinder(r1 = 4, r2 = 2, h = 9);
	}
	translate([room.x / 2 - 7, room.y / 2 - 7, 0]) sphere(3); // a key, and its socket in the other half
}
module socket() translate([7 - room.x / 2, room.y / 2 - 7, 0]) sphere(3);

module frame() difference() {
	union() {
		difference() {
			translate([-room.x / 2 - wall - 1, -room.y / 2 - wall - 1, -4]) cube([room.x + 2 * wall + 2, room.y + 2 * wall + 2, room.z + 4]);
			inside(room.z + 1);
		}
		intersection() { translate([-room.x / 2 - 1, -room.y / 2 - 1, -1]) cube([room.x + 2, room.y + 2, room.z]); things(); }
	}
	socket();
}
module rubber() union() {
	difference() { intersection() { inside(room.z); translate([-100, -100, 0]) cube([200, 200, fill]); } things(); }
	intersection() { socket(); translate([-100, -100, -50]) cube([200, 200, 50.001]); }
}

// Turned over on to each other, two of the same frame are two halves. The faulty
// ones: a drill hole in the floor, a slit in the wall, keys on the wrong side.
module all() {
	if (part == "frame") frame();
	if (part == "rubber") rubber();
	if (part == "holed") difference() { frame(); translate([8, -20, -9]) cylinder(d = 2, h = 20); }
	if (part == "slit") difference() { frame(); translate([8, 0, 5]) cube([2, 99, 2]); }
	if (part == "mirrored") mirror([1, 0, 0]) frame();
}
if (box == 2) scale(1 / 25.4) rotate([90, 0, 0]) all(); else all();
