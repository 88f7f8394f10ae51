// node tray.mjs SEGMENTS HEAD.stl TRAY.stl: the reference tray as exact mesh
// booleans, its round parts with so many sides. Prints times, sizes and volumes
// as JSON. The tray is that of geom/geomtest/tray, its numbers written down a
// second time; mm.
import {Manifold, load} from './solids.mjs';
import {writeSTL} from './stl.mjs';

const [segments, headFile, trayFile] = [Number(process.argv[2]), ...process.argv.slice(3)];

const stages = [];
let last = performance.now();
function lap(name) {
	const now = performance.now();
	stages.push({name, seconds: (now - last) / 1000});
	last = now;
}

// Booleans wait until a result is asked for; this asks.
function done(solid, stage) {
	if (solid.status() !== 'NoError') throw new Error(`${stage}: ${solid.status()}`);
	lap(stage);
	return solid;
}

// block is a box from low to high in z, symmetric in x and y.
const block = (x, y, low, high) => Manifold.cube([x, y, high - low]).translate([-x / 2, -y / 2, low]);
const above = solid => solid.intersect(block(200, 200, 0, 100));
const balls = (radius, y) => [-64, 64].map(x => Manifold.sphere(radius, segments).translate([x, y, 0]));

const head = done(load(headFile), 'read the head');

// One head with its cone, cut once for all five.
const cone = Manifold.cylinder(10, 1.5, 4, segments).rotate([90, 0, 0]).translate([0, -16, 0]);
const standing = done(above(head.rotate([0, 0, 90])).add(above(cone)), 'cut the head');

const tray = done(Manifold.union([
	block(146, 56, -3, 18).subtract(block(140, 50, 0, 19)),
	...[-52, -26, 0, 26, 52].map(x => standing.translate([x, 0, 0])),
	...balls(3, 19).map(above),
]).subtract(Manifold.union(balls(2.5, -19))), 'make the tray');

const rubber = block(142, 52, -2.9, 15).subtract(tray);
const rubberVolume = rubber.volume();
done(rubber, 'make the rubber');

const made = tray.getMesh();
writeSTL(trayFile, made);
lap('write the tray');

const {user, system} = process.cpuUsage(); // µs
console.log(JSON.stringify({
	stages,
	seconds: stages.reduce((sum, {seconds}) => sum + seconds, 0),
	processor_seconds: (user + system) / 1e6,
	triangles: made.triVerts.length / 3,
	tray_mm3: tray.volume(),
	rubber_mm3: rubberVolume,
	peak_bytes: 1024 * process.resourceUsage().maxRSS,
}));
